"""From which day a shelter fits which stock, to the day."""

from datetime import date, timedelta

import pytest

from exchange.domain.growing.batch import RESTING, Material, Raised
from exchange.domain.growing.fit import (
    ALWAYS,
    Stock,
    coldest_fit,
    fit_from,
    fits_at_place,
)
from exchange.domain.growing.season import WAITS_FOR_WARM_NIGHTS
from exchange.domain.growing.shelter import Shelter, ShelterKind, stands_as
from exchange.domain.growing.variety import Species

SAFE = date(2027, 5, 20)
FROST_FREE, COLD, OPEN = ShelterKind.FROST_FREE, ShelterKind.COLD, ShelterKind.OPEN_GROUND


def stock(species=Species.DAHLIA, material=Material.ROOTED, raised=Raised.COOL):
    return Stock(species, material, raised)


@pytest.mark.parametrize(
    ("what", "frost_free", "cold", "open_ground"),
    [
        (stock(raised=Raised.IN_HEAT), 28, 0, 0),
        (stock(raised=Raised.COOL), None, 14, 0),
        (stock(raised=Raised.HARDENED), None, 28, 0),
        (stock(material=Material.UNROOTED), 14, 0, -14),
        (stock(material=Material.UNROOTED, raised=Raised.IN_HEAT), 14, 0, -14),
        *((stock(one), 0, -14, -28) for one in WAITS_FOR_WARM_NIGHTS),
        (stock(Species.TUBEROUS_BEGONIA), None, 14, 0),
        (stock(Species.OTHER, raised=Raised.HARDENED), 7, 0, -7),
        *((stock(material=one), None, 28, 14) for one in RESTING),
        *((stock(Species.COLEUS, one), None, 28, 14) for one in RESTING),
        (stock(material=Material.SEED), None, None, None),
    ],
)
def test_a_cool_shelter_fits_so_many_days_before_frosts_are_over(
    what, frost_free, cold, open_ground
):
    days = [fit_from(kind, what, SAFE) for kind in (FROST_FREE, COLD, OPEN)]

    assert days == [
        ALWAYS if grace is None else SAFE - timedelta(days=grace)
        for grace in (frost_free, cold, open_ground)
    ]


@pytest.mark.parametrize("kind", [ShelterKind.PROPAGATOR, ShelterKind.INDOORS, ShelterKind.HEATED])
def test_a_warm_shelter_always_fits(kind):
    assert fit_from(kind, stock(Species.COLEUS), None) == ALWAYS


def test_a_colder_shelter_will_do_from_the_very_day_it_fits():
    fits = SAFE - timedelta(days=14)

    kinds = [coldest_fit(stock(), fits + timedelta(days=step), SAFE) for step in (-1, 0)]

    assert kinds == [FROST_FREE, COLD]


def test_stock_for_which_it_is_too_cold_everywhere_else_needs_heat():
    early = SAFE - timedelta(days=29)

    assert coldest_fit(stock(raised=Raised.IN_HEAT), early, SAFE) is ShelterKind.HEATED


def test_where_the_last_frost_is_unknown_only_what_always_fits_will_do():
    assert coldest_fit(stock(), SAFE, None) is FROST_FREE


@pytest.mark.parametrize(
    ("kind", "carried_in", "counts_as"),
    [
        (OPEN, True, FROST_FREE),
        (COLD, True, FROST_FREE),
        (ShelterKind.INDOORS, True, ShelterKind.INDOORS),
        (COLD, False, COLD),
    ],
)
def test_pots_carried_in_at_night_stand_free_of_frost_and_never_colder_than_before(
    kind, carried_in, counts_as
):
    assert stands_as(Shelter(1, kind, carried_in=carried_in)) is counts_as


def test_a_place_fits_from_the_day_its_first_shelter_does():
    shelters = (Shelter(1, COLD), Shelter(1, OPEN))

    assert fits_at_place(shelters, stock(), SAFE) == SAFE - timedelta(days=14)


def test_a_place_fits_by_the_one_shelter_whose_day_is_known():
    shelters = (Shelter(1, COLD), Shelter(1, FROST_FREE))

    assert fits_at_place(shelters, stock(), None) == ALWAYS
