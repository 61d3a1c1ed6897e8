from datetime import date, timedelta

import pytest

from exchange.domain.weather.blend import Skill
from exchange.domain.weather.climate import at_height, usual_night
from exchange.domain.weather.corrected import RAW_COLD_CORRECTION_K
from exchange.domain.weather.forecast import MET_NORWAY, WeatherSource
from exchange.domain.weather.note import Doubt, Note
from exchange.domain.weather.outlook import outlook
from tests.builders.weather import NOW, Pin, a_climate, a_forecast, hourly

TONIGHT = date(2026, 4, 18)
SPAN = (TONIGHT, 6)


def a_cold_forecast(minimum=-3.0, *, nights=3, **changes):
    day = [minimum] * 8 + [8.0] * 16
    return a_forecast(hourly(day * (nights + 1)), **changes)


def test_without_a_forecast_the_nights_are_climate_and_say_so():
    seen = outlook(Pin(), None, a_climate(), SPAN, NOW)

    assert seen.source is WeatherSource.CLIMATE
    assert len(seen.nights) == 6
    assert seen.nights[0].mean_c == usual_night(a_climate(), TONIGHT).mean_c
    assert Note.NO_FORECAST in seen.notes
    assert seen.issued_at is None


def test_with_neither_forecast_nor_climate_nothing_is_said():
    seen = outlook(Pin(), None, None, SPAN, NOW)

    assert seen.source is WeatherSource.NONE
    assert seen.nights == ()
    assert Note.NOTHING in seen.notes
    assert Note.NO_FORECAST not in seen.notes  # it promises the usual nights instead
    assert seen.night(TONIGHT) is None


def test_forecast_nights_come_first_and_climate_follows():
    seen = outlook(Pin(), a_cold_forecast(), a_climate(), SPAN, NOW)

    assert [night.source for night in seen.nights] == [WeatherSource.FORECAST] * 3 + [
        WeatherSource.CLIMATE
    ] * 3
    assert seen.source is WeatherSource.BOTH
    assert seen.issued_at == NOW
    assert "Open-Meteo" in seen.attribution


def test_a_frost_forecast_makes_its_night_colder_than_usual():
    seen = outlook(Pin(), a_cold_forecast(), a_climate(), SPAN, NOW)

    assert seen.nights[0].mean_c < 0.0 < seen.nights[3].mean_c
    assert seen.nights[0].sd_c < seen.nights[2].sd_c < seen.nights[3].sd_c


def test_raw_minima_are_taken_colder_and_regressed_ones_as_they_are():
    raw = outlook(Pin(), a_cold_forecast(2.0), None, (TONIGHT, 1), NOW)
    regressed = outlook(Pin(), a_cold_forecast(2.0, source=MET_NORWAY), None, (TONIGHT, 1), NOW)

    assert raw.nights[0].mean_c == pytest.approx(2.0 - RAW_COLD_CORRECTION_K)
    assert regressed.nights[0].mean_c == pytest.approx(2.0)


def test_a_place_above_the_forecasts_height_is_colder():
    low = outlook(Pin(), a_cold_forecast(), None, (TONIGHT, 1), NOW)
    high = outlook(Pin(height_m=272.0), a_cold_forecast(), None, (TONIGHT, 1), NOW)

    assert low.nights[0].mean_c - high.nights[0].mean_c == pytest.approx(1.3)


def test_a_place_below_the_forecasts_height_is_warmer_by_one_degree_at_the_most():
    level, below, far_below = (
        outlook(Pin(height_m=height), a_cold_forecast(), None, (TONIGHT, 1), NOW).nights[0].mean_c
        for height in (72.0, 0.0, -400.0)
    )

    assert below - level == pytest.approx(0.468)
    assert far_below - level == pytest.approx(1.0)


@pytest.mark.parametrize(
    ("grid_km", "shifts"),
    [
        (None, {"hollow": -1.5, "town": 0.0, "coast": 0.0}),
        (10.0, {"hollow": -1.5, "town": 0.0, "coast": 0.0}),
        (10.1, {"hollow": -1.5, "town": 1.0, "coast": 1.0}),
    ],
)
def test_town_and_coast_warm_the_forecast_of_a_far_point_only_and_a_hollow_cools_each(
    grid_km, shifts
):
    forecast = a_cold_forecast(grid_km=grid_km)
    means = {
        lie: outlook(Pin(lie=lie), forecast, None, (TONIGHT, 1), NOW).nights[0].mean_c
        for lie in ("open", *shifts)
    }

    assert {lie: means[lie] - means["open"] for lie in shifts} == pytest.approx(shifts)


def test_without_a_height_nothing_is_corrected_and_it_says_so():
    forecast = a_cold_forecast(grid_height_m=None)
    seen = outlook(Pin(height_m=None), forecast, a_climate(), SPAN, NOW)

    assert Note.NO_HEIGHT in seen.notes
    assert seen.nights[5].mean_c == usual_night(a_climate(), seen.nights[5].day).mean_c


def test_a_height_nobody_gave_is_taken_from_the_forecast_and_said():
    forecast = a_cold_forecast(grid_height_m=272.0)
    seen = outlook(Pin(height_m=None), forecast, a_climate(), SPAN, NOW)

    corrected = usual_night(at_height(a_climate(), 272.0), seen.nights[5].day)
    assert Note.HEIGHT_FROM_FORECAST in seen.notes
    assert seen.nights[5].mean_c == corrected.mean_c


def test_an_expired_forecast_is_used_with_a_wider_spread_and_a_note():
    two_days_on = NOW + timedelta(days=2)
    span = (TONIGHT + timedelta(days=2), 1)
    stale = outlook(Pin(), a_cold_forecast(), a_climate(), span, two_days_on)
    fresh = outlook(Pin(), a_cold_forecast(issued_at=two_days_on), a_climate(), span, two_days_on)

    assert Note.OLD in stale.notes
    assert Note.OLD not in fresh.notes
    assert stale.nights[0].sd_c > fresh.nights[0].sd_c


@pytest.mark.parametrize(("hours", "said"), [(3, False), (9, False), (9.1, True)])
def test_a_forecast_is_old_when_the_next_fetch_but_one_is_due(hours, said):
    seen = outlook(Pin(), a_cold_forecast(), a_climate(), SPAN, NOW + timedelta(hours=hours))

    assert (Note.OLD in seen.notes) is said


@pytest.mark.parametrize(
    ("age", "note"),
    [(timedelta(days=6), Note.TOO_OLD), (timedelta(hours=-5), Note.FROM_THE_FUTURE)],
)
def test_a_forecast_out_of_its_time_is_not_used(age, note):
    seen = outlook(Pin(), a_cold_forecast(issued_at=NOW - age), a_climate(), SPAN, NOW)

    assert seen.source is WeatherSource.CLIMATE
    assert note in seen.notes


def test_figures_too_warm_to_be_believed_leave_the_usual_night():
    fahrenheit = a_forecast(hourly([40.0] * 96))
    seen = outlook(Pin(), fahrenheit, a_climate(), SPAN, NOW)

    assert seen.source is WeatherSource.CLIMATE
    assert seen.doubts([TONIGHT]) == {Doubt.TOO_WARM: (TONIGHT,)}
    assert seen.attribution == ""


def test_a_night_colder_than_believable_stands_and_is_to_be_checked():
    usual = usual_night(a_climate(), TONIGHT)
    edge = usual.mean_c - 5.0 * usual.sd_k + RAW_COLD_CORRECTION_K

    within = outlook(Pin(), a_cold_forecast(edge + 0.1), a_climate(), SPAN, NOW).nights[0]
    beyond = outlook(Pin(), a_cold_forecast(edge - 0.1), a_climate(), SPAN, NOW).nights[0]

    assert (within.doubt, beyond.doubt) == (None, Doubt.TOO_COLD)
    assert beyond.mean_c < within.mean_c < usual.mean_c - 4.0 * usual.sd_k
    assert beyond.sd_c == within.sd_c < usual.sd_k


def test_an_incomplete_night_keeps_the_colder_mean_and_the_usual_spread():
    cold_half = a_forecast(hourly([5.0] * 11 + [-4.0] * 12))
    warm_half = a_forecast(hourly([5.0] * 11 + [9.0] * 12))

    cold = outlook(Pin(), cold_half, a_climate(), SPAN, NOW).nights[0]
    warm = outlook(Pin(), warm_half, a_climate(), SPAN, NOW).nights[0]

    usual = usual_night(a_climate(), TONIGHT)
    whole = outlook(Pin(), a_cold_forecast(-4.0), a_climate(), SPAN, NOW).nights[0]
    assert (cold.mean_c, cold.sd_c) == (whole.mean_c, usual.sd_k)
    assert (warm.mean_c, warm.sd_c) == (usual.mean_c, usual.sd_k)
    assert (cold.source, warm.source) == (WeatherSource.FORECAST, WeatherSource.CLIMATE)
    assert cold.doubt is warm.doubt is Doubt.INCOMPLETE


def test_a_night_without_any_hour_between_two_that_are_told_is_incomplete():
    day = [8.0] * 11
    readings = hourly(day + [4.0] * 24 + [None] * 24 + [4.0] * 24)
    seen = outlook(Pin(), a_forecast(readings), a_climate(), (TONIGHT, 4), NOW)

    assert [night.doubt for night in seen.nights] == [None, Doubt.INCOMPLETE, None, None]


@pytest.mark.parametrize(("nights", "doubt"), [(0, Doubt.INCOMPLETE), (2, None)])
def test_the_night_in_which_a_forecast_ends_is_as_usual_and_doubtful_only_if_it_is_the_coming_one(
    nights, doubt
):
    day = [8.0] * 11
    readings = hourly(day + [4.0] * 24 * nights + [4.0] * 12)
    last = TONIGHT + timedelta(days=nights)
    night = outlook(Pin(), a_forecast(readings), a_climate(), SPAN, NOW).night(last)

    assert night.sd_c == usual_night(a_climate(), last).sd_k
    assert night.doubt is doubt


def test_doubts_are_told_for_the_nights_that_matter_only():
    readings = hourly([5.0] * 11 + [9.0] * 12)
    seen = outlook(Pin(), a_forecast(readings), a_climate(), SPAN, NOW)

    assert seen.doubts([TONIGHT]) == {Doubt.INCOMPLETE: (TONIGHT,)}
    assert seen.doubts([TONIGHT + timedelta(days=1)]) == {}
    assert seen.notes == ()


def test_without_climate_the_outlook_ends_where_the_forecast_ends():
    seen = outlook(Pin(), a_cold_forecast(), None, SPAN, NOW)

    assert len(seen.nights) == 3
    assert seen.source is WeatherSource.FORECAST
    assert Note.NO_CLIMATE in seen.notes


def test_a_forecast_for_another_place_is_refused():
    with pytest.raises(ValueError, match="another place"):
        outlook(Pin(id=2), a_cold_forecast(), None, SPAN, NOW)


def test_what_was_learned_of_a_place_shifts_its_forecast_nights_only():
    learned = Skill(shift_k=-1.0)
    plain = outlook(Pin(), a_cold_forecast(), None, (TONIGHT, 1), NOW)
    shifted = outlook(Pin(), a_cold_forecast(), None, (TONIGHT, 1), NOW, learned)
    climate = outlook(Pin(), None, a_climate(), (TONIGHT, 1), NOW, learned)

    assert plain.nights[0].mean_c - shifted.nights[0].mean_c == pytest.approx(1.0)
    assert climate.nights[0].mean_c == usual_night(a_climate(), TONIGHT).mean_c


def test_a_refitted_spread_is_used():
    sharper = Skill(days=20.0, site_error_k=0.3)
    published = outlook(Pin(), a_cold_forecast(), a_climate(), SPAN, NOW)
    refitted = outlook(Pin(), a_cold_forecast(), a_climate(), SPAN, NOW, sharper)

    assert refitted.nights[1].sd_c < published.nights[1].sd_c
