"""Frost notes laid over an outlook."""

from datetime import date
from statistics import NormalDist

from exchange.domain.weather.forecast import Outlook, WeatherSource
from exchange.domain.weather.note import Note
from exchange.domain.weather.outlook import outlook, with_notes
from tests.builders.weather import NOW, Pin, a_climate, a_forecast, hourly

SATURDAY, SUNDAY = date(2026, 4, 18), date(2026, 4, 19)


def seen(forecast=None, nights=3):
    return outlook(Pin(), forecast, a_climate(), (SATURDAY, nights), NOW)


def an_ensemble():
    readings = [r for m in range(8) for r in hourly([3.0 + m / 4] * 72, member=m)]
    return a_forecast([*hourly([4.0] * 72), *readings])


def test_a_colder_note_makes_its_night_as_cold_and_leaves_the_others():
    before = seen()
    after = with_notes(before, {SUNDAY: -3.0})

    assert after.night(SUNDAY).mean_c == -3.0
    assert after.night(SUNDAY).source is WeatherSource.FORECAST
    assert after.source is WeatherSource.BOTH
    assert after.night(SATURDAY) == before.night(SATURDAY)
    assert Note.NOTED in after.notes


def test_a_milder_note_changes_nothing():
    before = seen()

    assert with_notes(before, {SUNDAY: 15.0}) is before


def test_no_temperature_becomes_less_likely_to_be_undercut():
    before, after = seen().night(SUNDAY), with_notes(seen(), {SUNDAY: 3.0}).night(SUNDAY)

    assert after.mean_c < before.mean_c
    for threshold in range(-20, 20):
        there = NormalDist(after.mean_c, after.sd_c).cdf(threshold)
        assert there >= NormalDist(before.mean_c, before.sd_c).cdf(threshold)


def test_the_members_of_an_ensemble_go_down_with_their_night():
    before = seen(an_ensemble())
    after = with_notes(before, {SATURDAY: -2.0})
    night = after.night(SATURDAY)

    assert len(night.members) == 8
    assert abs(sum(night.members) / 8 - -2.0) < 1e-9
    assert night.sd_c == before.night(SATURDAY).sd_c


def test_an_outlook_without_nights_stays_without():
    empty = Outlook(1, (), WeatherSource.NONE)

    assert with_notes(empty, {SUNDAY: -3.0}) is empty
