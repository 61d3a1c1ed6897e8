"""From which day a shelter fits which stock, to the day."""

from datetime import date, timedelta

import pytest

from exchange.domain.growing.batch import RESTING, Material, Raised
from exchange.domain.growing.fit import (
    ALWAYS,
    OutFrom,
    Stock,
    coldest_fit,
    fit_from,
    fits_at_place,
)
from exchange.domain.growing.season import WAITS_FOR_WARM_NIGHTS
from exchange.domain.growing.shelter import Shelter, ShelterKind, stands_as
from exchange.domain.growing.variety import Species
from tests.reference.test_ten_towns import season_of

SAFE = date(2027, 5, 20)
WARM = date(2027, 6, 22)
OUT = OutFrom(SAFE, WARM)
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
    days = [fit_from(kind, what, OUT) for kind in (FROST_FREE, COLD, OPEN)]

    assert days == [
        ALWAYS if grace is None else SAFE - timedelta(days=grace)
        for grace in (frost_free, cold, open_ground)
    ]


@pytest.mark.parametrize("species", sorted(WAITS_FOR_WARM_NIGHTS))
@pytest.mark.parametrize("material", [Material.UNROOTED, Material.ROOTED, Material.YOUNG_PLANT])
def test_what_waits_for_warm_nights_counts_from_them_and_not_from_the_last_frosts(
    species, material
):
    for out in (OUT, OutFrom(SAFE - timedelta(days=30), WARM)):
        days = [fit_from(kind, stock(species, material), out) for kind in (FROST_FREE, COLD, OPEN)]

        assert days == [WARM - timedelta(days=grace) for grace in (28, 14, 0)]


def test_where_warm_nights_are_over_too_soon_coleus_fits_under_glass_alone():
    short = OutFrom(SAFE, WARM, short_summer=True)

    days = [fit_from(kind, stock(Species.COLEUS), short) for kind in (COLD, OPEN)]

    assert days == [WARM - timedelta(days=14), None]
    assert fit_from(OPEN, stock(), short) == SAFE


def test_where_nights_are_never_warm_enough_coleus_needs_heat_all_year():
    never = OutFrom(SAFE, None, short_summer=True)

    for day in (SAFE, WARM, date(2027, 8, 1)):
        assert coldest_fit(stock(Species.COLEUS), day, never) is ShelterKind.HEATED


@pytest.mark.parametrize(
    ("station", "height", "out"),
    [
        ("Shawbury", 100, OutFrom(date(2027, 5, 31), date(2027, 6, 22))),
        ("Lowestoft", 20, OutFrom(date(2027, 5, 10), date(2027, 6, 2))),
        ("Nairn", 215, OutFrom(date(2027, 6, 11), None, short_summer=True)),
        ("Leuchars", 60, OutFrom(date(2027, 6, 7), date(2027, 6, 30), short_summer=True)),
    ],
)
def test_both_days_come_from_the_growing_year_of_the_place(station, height, out):
    found = OutFrom.of(season_of(station, height))

    for ours, known in zip(
        (found.planting_out, found.warm_nights), (out.planting_out, out.warm_nights), strict=True
    ):
        assert (ours is None) == (known is None)
        assert ours is None or abs((ours - known).days) <= 2
    assert found.short_summer == out.short_summer


@pytest.mark.parametrize("kind", [ShelterKind.PROPAGATOR, ShelterKind.INDOORS, ShelterKind.HEATED])
def test_a_warm_shelter_always_fits(kind):
    assert fit_from(kind, stock(Species.COLEUS), None) == ALWAYS


def test_a_colder_shelter_will_do_from_the_very_day_it_fits():
    fits = SAFE - timedelta(days=14)

    kinds = [coldest_fit(stock(), fits + timedelta(days=step), OUT) for step in (-1, 0)]

    assert kinds == [FROST_FREE, COLD]


def test_stock_for_which_it_is_too_cold_everywhere_else_needs_heat():
    early = SAFE - timedelta(days=29)

    assert coldest_fit(stock(raised=Raised.IN_HEAT), early, OUT) is ShelterKind.HEATED


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

    assert fits_at_place(shelters, stock(), OUT) == SAFE - timedelta(days=14)


def test_a_place_fits_by_the_one_shelter_whose_day_is_known():
    shelters = (Shelter(1, COLD), Shelter(1, FROST_FREE))

    assert fits_at_place(shelters, stock(), None) == ALWAYS
