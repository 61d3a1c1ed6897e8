"""Losing, room and fit: the formula against counting, and monotone in what keeps plants safe."""

from datetime import date, timedelta
from fractions import Fraction
from itertools import product

import pytest

from exchange.domain.growing.batch import RESTING, Batch, Material, Raised
from exchange.domain.growing.fit import (
    ALWAYS,
    WARM_TO_COLD,
    OutFrom,
    Stock,
    coldest_fit,
    fit_from,
    fits_at_place,
)
from exchange.domain.growing.losing import (
    Holding,
    another_home,
    holding,
    lives,
    place_loses,
    variety_lost,
    winter_shelter,
)
from exchange.domain.growing.room import room_down_to, taken_by
from exchange.domain.growing.shelter import Shelter, ShelterKind
from exchange.domain.growing.variety import Keeps, Species
from tests.builders.circles import a_variety

SAFE = date(2027, 5, 20)
OUT = OutFrom(SAFE, SAFE + timedelta(days=25))
HALF = Fraction(1, 2)


def by_counting(held):
    """Add up every fate of the place and of each plant."""
    lost = Fraction(0)
    for place_fails, *fates in product((True, False), repeat=held.plants + 1):
        chance = held.fails if place_fails else 1 - held.fails
        for one in fates:
            chance *= held.lives if one else 1 - held.lives
        if place_fails or not any(fates):
            lost += chance
    return lost


@pytest.mark.parametrize("plants", range(1, 5))
def test_the_chance_of_a_place_equals_counting_all_fates(plants):
    held = Holding(1, plants, Fraction(7, 10), Fraction(3, 100))
    assert place_loses(held) == by_counting(held)


def test_lone_tubers_at_seventy_percent_in_separate_safe_places():
    # 70, 91, 97.3 and 99.19 % that one lives, with 1 to 4 pieces in separate places: 1 - 0.3^n.
    held = [Holding(place, 1, Fraction(7, 10), Fraction(0)) for place in range(4)]
    alive = [1 - variety_lost(held[:count]) for count in (1, 2, 3, 4)]
    assert alive == [
        Fraction(70, 100),
        Fraction(91, 100),
        Fraction(973, 1000),
        Fraction(9919, 10**4),
    ]


def test_a_second_place_helps_more_than_a_second_plant_in_the_same():
    here = holding(a_variety(), 1, ShelterKind.FROST_FREE, 1)
    there = holding(a_variety(), 2, ShelterKind.FROST_FREE, 1)
    assert variety_lost([here, there]) < place_loses(here, 1) < place_loses(here)


def test_what_nobody_holds_is_lost_for_certain():
    assert variety_lost([]) == 1


def test_green_plants_in_the_cold_live_less_often():
    fuchsia = a_variety(species=Species.FUCHSIA)
    cold = holding(fuchsia, 1, ShelterKind.COLD, 1)
    mild = holding(fuchsia, 1, ShelterKind.FROST_FREE, 1)
    assert cold.lives < mild.lives
    assert cold.fails > mild.fails


def chance(species, shelter, **changes):
    return lives(a_variety(species=species, **changes), shelter)


@pytest.mark.parametrize(
    ("species", "indoors", "heated", "frost_free", "cold", "ground"),
    [
        (Species.PELARGONIUM, 85, 85, 80, 20, 2),
        (Species.FUCHSIA, 75, 85, 85, 35, 20),
        (Species.CHRYSANTHEMUM, 60, 85, 90, 80, 45),
        (Species.SALVIA, 70, 80, 75, 35, 30),
        (Species.COLEUS, 75, 50, 5, 0, 0),
        (Species.FOLIAGE_BEGONIA, 75, 50, 5, 0, 0),
        (Species.DAHLIA, 70, 70, 70, 70, 40),
        (Species.TUBEROUS_BEGONIA, 70, 70, 70, 70, 40),
        (Species.BEGONIA, 70, 50, 5, 0, 0),
    ],
)
def test_a_plant_lives_through_the_winter_by_its_kind_and_shelter(
    species, indoors, heated, frost_free, cold, ground
):
    kinds = (ShelterKind.INDOORS, *WARM_TO_COLD[2:])

    assert [chance(species, kind) * 100 for kind in kinds] == [
        indoors,
        heated,
        frost_free,
        cold,
        ground,
    ]
    assert chance(species, None) == chance(species, ShelterKind.INDOORS)
    assert chance(species, ShelterKind.PROPAGATOR) == chance(species, ShelterKind.HEATED)


@pytest.mark.parametrize(("keeps", "stored", "in_ground"), [("well", 90, 60), ("badly", 40, 15)])
def test_a_tuber_lives_by_how_it_keeps(keeps, stored, in_ground):
    variety = a_variety(keeps=Keeps(keeps))

    assert lives(variety, ShelterKind.FROST_FREE) == Fraction(stored, 100)
    assert lives(variety, ShelterKind.OPEN_GROUND) == Fraction(in_ground, 100)


def test_each_variety_winters_in_the_shelter_that_loses_it_least():
    every = tuple(Shelter(1, kind) for kind in ShelterKind)
    stool = a_variety(species=Species.CHRYSANTHEMUM)
    cool = (Shelter(1, ShelterKind.INDOORS), Shelter(1, ShelterKind.FROST_FREE))

    assert winter_shelter(a_variety(), every) is ShelterKind.INDOORS
    assert winter_shelter(stool, cool) is ShelterKind.FROST_FREE
    assert winter_shelter(a_variety(species=Species.COLEUS), cool) is ShelterKind.INDOORS
    assert winter_shelter(stool, ()) is None


def test_one_more_home_is_warm_for_coleus_and_free_of_frost_for_others():
    coleus, fuchsia = a_variety(species=Species.COLEUS), a_variety(species=Species.FUCHSIA)

    assert another_home(coleus) == holding(coleus, 0, ShelterKind.INDOORS, 1)
    assert another_home(fuchsia) == holding(fuchsia, 0, ShelterKind.FROST_FREE, 1)


@pytest.mark.parametrize(
    ("fails", "alive", "plants", "lost"),
    [
        (7, 70, 1, 0.349),
        (7, 70, 2, 0.1537),
        (7, 70, 3, 0.09511),
        (7, 40, 1, 0.628),
        (7, 90, 1, 0.163),
        (30, 70, 1, 0.51),
        (30, 20, 1, 0.86),
        (7, 80, 1, 0.256),
        (5, 80, 2, 0.088),
        (10, 70, 10, 0.100005),
    ],
)
def test_the_chance_of_a_place_by_hand(fails, alive, plants, lost):
    held = Holding(1, plants, Fraction(alive, 100), Fraction(fails, 100))

    assert float(place_loses(held)) == pytest.approx(lost, abs=6e-6)


@pytest.mark.parametrize("material", list(Material))
@pytest.mark.parametrize("raised", list(Raised))
@pytest.mark.parametrize("species", [Species.DAHLIA, Species.COLEUS])
def test_a_colder_shelter_never_fits_earlier_and_a_later_day_never_fits_worse(
    material, raised, species
):
    stock = Stock(species, material, raised)
    days = [fit_from(kind, stock, OUT) for kind in WARM_TO_COLD]
    assert all(day is not None for day in days)
    assert days == sorted(days)
    coldest = [
        WARM_TO_COLD.index(coldest_fit(stock, SAFE + timedelta(days=step), OUT))
        for step in range(-60, 30, 5)
    ]
    assert coldest == sorted(coldest)


def test_hardened_stock_stands_colder_than_stock_raised_in_heat():
    when = SAFE - timedelta(days=20)
    heat = coldest_fit(Stock(Species.DAHLIA, Material.ROOTED, Raised.IN_HEAT), when, OUT)
    hardened = coldest_fit(Stock(Species.DAHLIA, Material.ROOTED, Raised.HARDENED), when, OUT)
    assert (heat, hardened) == (ShelterKind.FROST_FREE, ShelterKind.COLD)


def test_without_a_safe_date_the_cold_fits_no_tender_stock():
    stock = Stock(Species.DAHLIA, Material.ROOTED, Raised.IN_HEAT)
    assert fit_from(ShelterKind.COLD, stock, None) is None
    assert fits_at_place((Shelter(1, ShelterKind.COLD),), stock, None) is None
    assert fits_at_place((), stock, None) == ALWAYS


def test_resting_stock_keeps_free_of_frost_on_any_day():
    for material in RESTING:
        stock = Stock(Species.DAHLIA, material, Raised.COOL)
        assert fit_from(ShelterKind.FROST_FREE, stock, None) == ALWAYS


def test_room_is_nested_and_less_what_stands():
    shelters = (
        Shelter(1, ShelterKind.INDOORS, 4),
        Shelter(1, ShelterKind.COLD, 10),
        Shelter(1, ShelterKind.OPEN_GROUND),
    )
    batch = Batch(1, 1, 1, 1, Material.ROOTED, Raised.COOL, 3, ShelterKind.INDOORS)
    assert room_down_to(shelters, taken_by([batch])) == (-1, 1, 1, 1, 11, None)
    assert room_down_to((), {}) == (None,) * 6


def test_pots_that_can_be_carried_in_count_as_free_of_frost():
    shelters = (Shelter(1, ShelterKind.COLD, 5, carried_in=True),)
    assert room_down_to(shelters, {}) == (-1, -1, -1, 5, 5, 5)
