from datetime import date, timedelta

import pytest
from scipy.stats import norm

from exchange.domain.arriving.nights import (
    COLD_CHANCE,
    chance_too_cold,
    runs,
    usual_stand,
    warm_stand,
)
from exchange.domain.arriving.step import CareGroup, StandIn
from exchange.domain.growing.batch import Raised
from exchange.domain.growing.shelter import ADDS_K, ShelterKind
from exchange.domain.weather.blend import chance_in
from tests.builders.arrivals import a_line, a_receiver, a_window, an_outlook, nights_of


@pytest.mark.parametrize("limit", [-3.0, 0.0, 1.5, 4.0])
def test_the_chance_below_is_the_normal_law_as_scipy_has_it(limit):
    night = an_outlook(lows=(1.2,), sd=1.7).nights[0]

    assert chance_in(night, limit) == pytest.approx(norm.cdf(limit, 1.2, 1.7), abs=1e-12)


def test_a_night_without_spread_is_certain():
    night = an_outlook(lows=(1.0,), sd=0.0).nights[0]

    assert (chance_in(night, 1.0), chance_in(night, 1.1)) == (0.0, 1.0)


def test_a_heated_shelter_holds_its_floor_whatever_the_night():
    night = an_outlook(lows=(-20.0,)).nights[0]

    assert chance_too_cold(night, ShelterKind.HEATED, 6.0) == 0.0
    assert chance_too_cold(night, ShelterKind.COLD, 3.0) > 0.99


def test_glass_without_heat_gives_its_gain_and_no_more():
    night = an_outlook(lows=(1.0,), sd=1.0).nights[0]
    gain = ADDS_K[ShelterKind.COLD]

    assert chance_too_cold(night, ShelterKind.COLD, 1.0 + gain) == pytest.approx(0.5)


@pytest.mark.parametrize(
    ("raised", "kinds", "shelter"),
    [
        (Raised.IN_HEAT, {ShelterKind.FROST_FREE, ShelterKind.HEATED}, ShelterKind.HEATED),
        (Raised.COOL, {ShelterKind.FROST_FREE, ShelterKind.HEATED}, ShelterKind.FROST_FREE),
        (Raised.HARDENED, {ShelterKind.COLD, ShelterKind.FROST_FREE}, ShelterKind.COLD),
    ],
)
def test_plants_stand_where_they_were_raised_to_stand(raised, kinds, shelter):
    assert usual_stand(kinds, CareGroup.GREEN, raised) == StandIn(shelter)


def test_open_ground_is_no_shelter_for_arrivals():
    stand = usual_stand({ShelterKind.OPEN_GROUND}, CareGroup.GREEN, Raised.HARDENED)

    assert stand == StandIn(ShelterKind.INDOORS, told=False)


def test_the_warm_stand_is_a_heated_house_only_where_it_holds_the_warmth():
    kinds = {ShelterKind.HEATED}

    assert warm_stand(kinds, 6.0) == StandIn(ShelterKind.HEATED)
    assert warm_stand(kinds, 12.0) == StandIn(ShelterKind.INDOORS, told=False)


def test_a_colder_forecast_never_names_fewer_nights():
    line, at = a_line(raised=Raised.COOL), (ShelterKind.COLD,)
    named = [
        sum(n.too_cold for n in nights_of([line], a_receiver(at, an_outlook(lows=(low,) * 10))))
        for low in (9.0, 6.0, 4.0, 2.0, -2.0)
    ]

    assert named == sorted(named)
    assert (named[0], named[-1]) == (0, 10)


def test_a_night_is_named_from_one_chance_in_ten_on():
    lows = [3.0 - ADDS_K[ShelterKind.COLD] + x for x in (1.27, 1.29)]
    at = a_receiver((ShelterKind.COLD,), an_outlook(lows=lows, sd=1.0))
    first, second = nights_of([a_line(raised=Raised.COOL)], at)

    assert COLD_CHANCE == 0.1
    assert norm.cdf(-1.27) > COLD_CHANCE > norm.cdf(-1.29)
    assert (first.too_cold, second.too_cold) == (True, False)


def test_runs_break_at_every_gap():
    at = a_receiver((ShelterKind.COLD,), an_outlook(lows=(0, 9, 0, 0, 9, 0), sd=0.5))
    cold = [n for n in nights_of([a_line(raised=Raised.COOL)], at) if n.too_cold]

    assert [len(run) for run in runs(cold)] == [1, 2, 1]
    assert runs(cold)[1][0].day == date(2027, 4, 28) + timedelta(days=2)


def test_nights_before_the_parcel_comes_are_nobodys():
    early = an_outlook(first=date(2027, 4, 20), lows=(0.0,) * 20)

    nights = nights_of([a_line()], a_receiver(outlook=early))

    assert nights[0].day == a_window().first
