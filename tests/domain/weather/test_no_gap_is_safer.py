"""No gap, cut, shift or null makes a frost less likely than both the whole forecast and climate have it.

`EXCHANGE_TEST_SCALE=10 .venv/bin/pytest tests/domain/weather/test_no_gap_is_safer.py` tries 2,000 forecasts.
"""

import math
import random
from dataclasses import replace
from datetime import date, timedelta
from statistics import NormalDist

import pytest

from exchange.domain.weather import corrected
from exchange.domain.weather import outlook as rules
from exchange.domain.weather.blend import chance_in
from exchange.domain.weather.forecast import MET_NORWAY, Reading, WeatherSource
from exchange.domain.weather.outlook import outlook
from tests.builders.weather import NOW, Pin, a_climate, a_forecast

CASES = 200
SPAN = (date(2026, 4, 18), 7)
MIDNIGHT = NOW.replace(hour=0)
ROUNDING = 1e-12


def a_run(chance, hours, level, member):
    """Days and nights of six to twelve degrees' swing, with fronts, about a level."""
    swing, front, readings = chance.uniform(3.0, 6.0), 0.0, []
    for hour in range(hours):
        front = 0.97 * front + chance.gauss(0.0, 0.6)
        wave = swing * math.cos(2.0 * math.pi * (hour - 15) / 24)
        readings.append(
            Reading(MIDNIGHT + timedelta(hours=hour), level + wave + front, member=member)
        )
    return readings


def a_whole_forecast(chance):
    level, hours = chance.uniform(-3.0, 16.0), 24 * chance.randint(3, 8)
    members = chance.choice((0, 0, 0, 6, 12))
    readings = a_run(chance, hours, level, None)
    for number in range(members):
        readings += a_run(chance, hours, level + chance.gauss(0.0, 2.0), number)
    source = chance.choice(("Open-Meteo", MET_NORWAY))
    return a_forecast(readings, source=source, members=members)


def nulls(chance, forecast):
    """Single figures are null here and there."""
    often = chance.choice((0.002, 0.02, 0.2))
    return [one for one in forecast.readings if chance.random() >= often]


def gap(chance, forecast):
    """Some hours are missing, from all of it or from one member."""
    first = MIDNIGHT + timedelta(hours=chance.randint(0, 150))
    last = first + timedelta(hours=chance.randint(0, 20))
    whose = chance.choice([True, *{one.member for one in forecast.readings}])
    return [
        one
        for one in forecast.readings
        if not (first <= one.at <= last and whose in (True, one.member))
    ]


def cut(chance, forecast):
    """It ends before it should."""
    last = MIDNIGHT + timedelta(hours=chance.randint(10, 150))
    return [one for one in forecast.readings if one.at <= last]


def shift(chance, forecast):
    """It begins later than it should."""
    first = NOW + timedelta(hours=chance.randint(2, 60))
    return [one for one in forecast.readings if one.at >= first]


def members_null(chance, forecast):
    """Some members have no figures at all."""
    lost = {number for number in range(forecast.members) if chance.random() < 0.2}
    return [one for one in forecast.readings if one.member not in lost]


DAMAGES = (nulls, gap, cut, shift, members_null)


def damaged(chance, forecast):
    for damage in chance.sample(DAMAGES, chance.randint(1, 3)):
        forecast = replace(forecast, readings=tuple(damage(chance, forecast)))
    return forecast


def by_its_spread(night):
    return NormalDist(night.mean_c, night.sd_c).cdf(0.0)


def broken(number):
    """Give the nights of one case on which a frost became less likely than it may."""
    chance = random.Random(number)
    place = Pin(
        lie=chance.choice(("open", "hollow", "town", "coast")), height_m=chance.uniform(0.0, 300.0)
    )
    whole = a_whole_forecast(chance)
    usual, full, found = (
        outlook(place, forecast, a_climate(), SPAN, NOW)
        for forecast in (None, whole, damaged(chance, whole))
    )
    return [
        (number, night.day, law.__name__)
        for climatic, told, night in zip(usual.nights, full.nights, found.nights, strict=True)
        for law in (chance_in, by_its_spread)
        if law(night) < min(law(climatic), law(told)) - ROUNDING
    ]


def test_a_frost_never_becomes_less_likely_than_both_whole_forecast_and_climate_have_it(scale):
    found = [one for number in range(scale(CASES)) for one in broken(number)]

    assert found == []


def test_the_cases_hold_nights_of_every_kind():
    seen = set()
    for number in range(60):
        chance = random.Random(number)
        whole = a_whole_forecast(chance)
        nights = outlook(Pin(), damaged(chance, whole), a_climate(), SPAN, NOW).nights
        usual = outlook(Pin(), None, a_climate(), SPAN, NOW).nights
        for night, climatic in zip(nights, usual, strict=True):
            colder = night.mean_c < climatic.mean_c
            seen.add((night.source, night.doubt, bool(night.members), colder))

    assert {source for source, _doubt, _members, _colder in seen} == {
        WeatherSource.FORECAST,
        WeatherSource.CLIMATE,
    }
    assert {doubt for _source, doubt, _members, _colder in seen} >= {None, "incomplete"}
    assert {members for _source, _doubt, members, _colder in seen} == {True, False}
    assert (WeatherSource.FORECAST, "incomplete", False, True) in seen


def as_if_whole(told, usual, day, said, skill):
    return rules._blended(told, usual, day, said.minimum_c, skill)


def only_where_colder(told, usual, day, said, skill):
    if said.minimum_c >= usual.mean_c:
        return rules._usual(day, usual)
    return as_if_whole(told, usual, day, said, skill)


@pytest.mark.parametrize("rule", [as_if_whole, only_where_colder])
def test_it_is_seen_when_an_incomplete_night_is_taken_for_a_whole_one(monkeypatch, rule):
    monkeypatch.setattr(rules, "_incomplete", rule)

    assert any(broken(number) for number in range(CASES))


def test_it_is_seen_when_members_that_are_missing_are_passed_over(monkeypatch):
    def passed_over(told, day):
        members = told.members.get(day, {})
        return corrected.ToldNight(1.0, whole=True, members=members) if members else None

    monkeypatch.setattr(corrected.CorrectedForecast, "night", passed_over)

    assert any(broken(number) for number in range(CASES))
