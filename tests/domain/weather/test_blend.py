import math
from dataclasses import replace
from datetime import date

import pytest

from exchange.domain.weather.blend import (
    HORIZON_DAYS,
    at_lead,
    chance_in,
    chance_of_members,
    explained,
    lead_spread,
    of_members,
)
from exchange.domain.weather.climate import usual_night
from exchange.domain.weather.forecast import Night, WeatherSource
from exchange.domain.weather.note import Doubt
from exchange.domain.weather.outlook import outlook
from tests.builders.weather import NOW, Pin, a_climate, a_forecast, hourly

LEADS = [0.0, 0.3, 1, 2, 3, 4, 5, 6, 7, 8, 10, 12, 14, 14.01, 20]
TONIGHT = date(2026, 4, 18)


def test_the_spread_grows_with_the_lead_and_never_passes_the_climatic_one():
    for climatic in (0.5, 2.0, 3.0, 3.5, 5.0):
        spreads = [lead_spread(lead, climatic) for lead in LEADS]

        assert spreads == sorted(spreads)
        assert spreads[-1] == climatic


def test_beyond_the_horizon_the_answer_is_climate_exactly():
    joined = at_lead(-9.0, 4.0, 3.5, HORIZON_DAYS + 0.01)

    assert (joined.mean_c, joined.sd_k, joined.weight) == (4.0, 3.5, 0.0)


def test_a_raw_forecast_is_drawn_toward_climate_once():
    joined = at_lead(1.0, 4.0, 3.5, 6.0)

    assert joined.weight == pytest.approx(math.sqrt(explained(6.0)))
    assert joined.mean_c == pytest.approx(4.0 - 3.0 * math.sqrt(0.5), abs=0.001)
    assert joined.sd_k == lead_spread(6.0, 3.5)


def test_a_regressed_forecast_is_not_drawn_a_second_time():
    joined = at_lead(1.0, 4.0, 3.5, 6.0, regressed=True)

    assert joined.mean_c == 1.0
    assert joined.sd_k == lead_spread(6.0, 3.5)


def test_the_mean_lies_between_forecast_and_climate_and_nearer_climate_with_the_lead():
    means = [at_lead(0.0, 4.0, 3.5, lead).mean_c for lead in LEADS]

    assert all(0.0 < mean <= 4.0 for mean in means)
    assert means == sorted(means)


def an_ensemble(minima, *, control=3.0):
    day = [8.0] * 20 + [None] * 10 + [8.0] * 18

    def run(minimum):
        return [minimum if value is None else value for value in day]

    readings = [*hourly(run(control))]
    for number, minimum in enumerate(minima):
        readings += hourly(run(minimum), member=number)
    return a_forecast(readings, source="Open-Meteo ensemble")


def test_members_count_as_they_are_with_the_error_of_the_site():
    mean, spread = of_members((1.0, 2.0, 3.0), site_error_k=0.5)

    assert mean == 2.0
    assert spread == pytest.approx((2.0 / 3.0 + 0.25) ** 0.5)


def test_alike_members_still_have_the_error_of_the_site():
    assert of_members((1.0,) * 10, site_error_k=0.674)[1] == pytest.approx(0.674)


def test_the_chance_of_members_is_that_of_each_in_turn():
    assert chance_of_members(0.0, (-9.0, 9.0)) == pytest.approx(0.5)
    assert chance_of_members(0.0, (0.0,)) == pytest.approx(0.5)


def test_an_ensemble_makes_the_night_without_any_drawing_toward_climate():
    seen = outlook(
        Pin(), an_ensemble((-4.0, -3.0, -2.0, -1.0, 0.0)), a_climate(), (TONIGHT, 2), NOW
    )

    night = seen.nights[0]
    assert night.source is WeatherSource.FORECAST
    assert night.mean_c == pytest.approx(-2.5)  # less the cold correction of raw minima
    assert night.members == (-4.5, -3.5, -2.5, -1.5, -0.5)


def test_too_few_members_leave_the_plain_forecast():
    seen = outlook(Pin(), an_ensemble((-4.0, -3.0)), a_climate(), (TONIGHT, 1), NOW)

    assert seen.nights[0].members == ()
    assert seen.nights[0].mean_c > 0.0


def without(forecast, member, *hours):
    kept = [
        one
        for one in forecast.readings
        if one.member != member or (hours and one.at.hour not in hours)
    ]
    return replace(forecast, readings=tuple(kept), members=5)


SMALL_HOURS = (20, 21, 22, 23, 0, 1, 2, 3, 4, 5)


@pytest.mark.parametrize("hours", [(), SMALL_HOURS], ids=["all null", "small hours"])
def test_a_member_without_figures_leaves_the_colder_mean_with_the_usual_spread(hours):
    usual = usual_night(a_climate(), TONIGHT)
    cold = an_ensemble((-4.0, -3.0, -2.0, -1.0, 0.0))
    mild = an_ensemble((6.0, 6.5, 7.0, 7.5, -9.0), control=7.0)

    colder = outlook(Pin(), without(cold, 4, *hours), a_climate(), (TONIGHT, 1), NOW).nights[0]
    milder = outlook(Pin(), without(mild, 4, *hours), a_climate(), (TONIGHT, 1), NOW).nights[0]

    assert colder.mean_c < -1.0
    assert milder.mean_c == usual.mean_c
    assert colder.sd_c == milder.sd_c == usual.sd_k
    assert colder.members == milder.members == ()
    assert colder.doubt is milder.doubt is Doubt.INCOMPLETE


def test_a_whole_control_run_does_not_stand_for_members_that_are_missing():
    mild = an_ensemble((6.0, 6.5, 7.0, 7.5, 8.0), control=7.0)
    alone = replace(mild, readings=tuple(r for r in mild.readings if r.member is None), members=5)

    night = outlook(Pin(), alone, a_climate(), (TONIGHT, 1), NOW).nights[0]

    assert night.sd_c == usual_night(a_climate(), TONIGHT).sd_k
    assert night.doubt is Doubt.INCOMPLETE


def test_the_chance_in_a_night_goes_by_its_members_and_the_nights_own_error_of_the_site():
    members = (-4.0, 4.0)
    night = Night(TONIGHT, 0.0, of_members(members, 1.5)[1], 9.0, WeatherSource.FORECAST, members)

    assert chance_in(night, 3.0) == pytest.approx(chance_of_members(3.0, members, 1.5))
    assert chance_in(replace(night, members=()), 0.0) == pytest.approx(0.5)


def test_no_members_are_no_ensemble():
    with pytest.raises(ValueError, match="members"):
        of_members(())
    with pytest.raises(ValueError, match="members"):
        chance_of_members(0.0, ())
