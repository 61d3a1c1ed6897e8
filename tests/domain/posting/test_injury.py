import numpy as np
import pytest

from exchange.domain.growing.batch import Material, Raised
from exchange.domain.growing.variety import Species
from exchange.domain.posting.injury import curve, curves, kept, loss, tolerance
from exchange.words.kernel.chances import in_hundred
from tests.house import ROOT

ALL = [
    (species, material, raised) for species in Species for material in Material for raised in Raised
]


def a_kind(species=Species.DAHLIA, material=Material.ROOTED, raised=Raised.COOL):
    return curves(tolerance(species, material, raised))


def test_a_curve_goes_through_its_two_points():
    line = curve((5.0, 2.0), (0.01, 0.30))
    assert 1 - kept(line, 5.0) == pytest.approx(0.01)
    assert 1 - kept(line, 2.0) == pytest.approx(0.30)


@pytest.mark.parametrize("what", ALL)
def test_colder_hotter_and_longer_never_lose_less(what):
    kind = a_kind(*what)
    falling = [float(loss(kind, low, 15, 1)) for low in np.arange(12, -6, -0.5)]
    rising = [float(loss(kind, 12, high, 1)) for high in np.arange(12, 40, 0.5)]
    longer = [float(loss(kind, 12, 15, days)) for days in range(15)]
    for chances in (falling, rising, longer):
        assert chances == sorted(chances)
        assert 0 <= chances[0] <= chances[-1] <= 1


def test_stock_raised_in_heat_is_the_tenderest_and_tubers_are_not_asked():
    def at_two(material, raised):
        return float(loss(a_kind(material=material, raised=raised), 2.0, 15, 1))

    green = [at_two(Material.ROOTED, raised) for raised in Raised]
    assert green == sorted(green, reverse=True)
    assert len({at_two(Material.DIVISION, raised) for raised in Raised}) == 1


def test_unrooted_cuttings_are_tenderer_than_rooted_ones_and_those_than_tubers():
    order = (Material.UNROOTED, Material.ROOTED, Material.DIVISION)
    chances = [float(loss(a_kind(material=one), 2.0, 15, 1)) for one in order]
    assert chances == sorted(chances, reverse=True)


@pytest.mark.parametrize("material", [Material.UNROOTED, Material.ROOTED, Material.DIVISION])
def test_an_unlisted_species_takes_the_most_careful_figures(material):
    other = tolerance(Species.OTHER, material, Raised.COOL)
    for species in Species:
        known = tolerance(species, material, Raised.COOL)
        assert other.cold[0] >= known.cold[0]
        assert other.cold[1] >= known.cold[1]


def test_a_dahlia_tuber_frozen_for_three_hours_is_refused_by_any_limit_and_one_at_freezing_point_is_not():
    assert float(loss(a_kind(material=Material.POT_TUBER), -1.0, 12, 1)) > 1 / 20
    assert float(loss(a_kind(material=Material.POT_TUBER), 0.0, 12, 1)) < 1 / 20
    assert float(loss(a_kind(material=Material.POT_TUBER), 6.0, 12, 1)) < 1 / 100


@pytest.mark.parametrize("species", Species)
def test_plants_at_rest_stand_a_degree_more_than_hardened_young_ones(species):
    resting = tolerance(species, Material.STOOL, Raised.COOL)
    young = tolerance(species, Material.YOUNG_PLANT, Raised.HARDENED)

    assert resting.cold[0] <= young.cold[0] - 1
    assert resting.cold[1] <= young.cold[1] - 1


def test_a_mild_day_on_the_road_loses_next_to_nothing():
    assert float(loss(a_kind(), 9.0, 16.0, 1)) < 1 / 200


def test_extremes_give_chances_not_overflows():
    with np.errstate(all="raise"):
        chances = loss(a_kind(), np.array([-80.0, 80.0]), np.array([-80.0, 80.0]), 99)
    assert ((chances >= 0) & (chances <= 1)).all()


STOCK = {
    "unrooted dahlia raised in heat": (Species.DAHLIA, Material.UNROOTED, Raised.IN_HEAT),
    "unrooted dahlia raised cool": (Species.DAHLIA, Material.UNROOTED, Raised.COOL),
    "rooted dahlia raised in heat": (Species.DAHLIA, Material.ROOTED, Raised.IN_HEAT),
    "rooted dahlia raised cool": (Species.DAHLIA, Material.ROOTED, Raised.COOL),
    "young dahlia hardened off": (Species.DAHLIA, Material.YOUNG_PLANT, Raised.HARDENED),
    "dahlia tuber": (Species.DAHLIA, Material.DIVISION, Raised.COOL),
    "rooted pelargonium raised cool": (Species.PELARGONIUM, Material.ROOTED, Raised.COOL),
    "rooted fuchsia raised cool": (Species.FUCHSIA, Material.ROOTED, Raised.COOL),
    "rooted chrysanthemum raised cool": (Species.CHRYSANTHEMUM, Material.ROOTED, Raised.COOL),
    "chrysanthemum stool": (Species.CHRYSANTHEMUM, Material.STOOL, Raised.COOL),
    "rooted salvia raised cool": (Species.SALVIA, Material.ROOTED, Raised.COOL),
    "rooted coleus raised in heat": (Species.COLEUS, Material.ROOTED, Raised.IN_HEAT),
    "rooted coleus raised cool": (Species.COLEUS, Material.ROOTED, Raised.COOL),
    "rooted foliage begonia raised cool": (Species.FOLIAGE_BEGONIA, Material.ROOTED, Raised.COOL),
    "rooted tuberous begonia raised cool": (Species.TUBEROUS_BEGONIA, Material.ROOTED, Raised.COOL),
    "begonia tuber": (Species.TUBEROUS_BEGONIA, Material.CLUMP, Raised.COOL),
    "rooted plant of unknown kind raised in heat": (Species.OTHER, Material.ROOTED, Raised.IN_HEAT),
}
HOT = {
    "unrooted cutting": (Species.DAHLIA, Material.UNROOTED, Raised.COOL),
    "rooted or young plant": (Species.DAHLIA, Material.ROOTED, Raised.COOL),
    "tuber, root or stool": (Species.DAHLIA, Material.CLUMP, Raised.COOL),
}
REASONED = {
    "dahlia, unrooted": STOCK["unrooted dahlia raised cool"],
    "dahlia, rooted or young plant": STOCK["rooted dahlia raised cool"],
    "dahlia at rest": STOCK["dahlia tuber"],
    "pelargonium": STOCK["rooted pelargonium raised cool"],
    "pelargonium at rest": (Species.PELARGONIUM, Material.STOOL, Raised.COOL),
    "fuchsia": STOCK["rooted fuchsia raised cool"],
    "fuchsia at rest": (Species.FUCHSIA, Material.STOOL, Raised.COOL),
    "chrysanthemum": STOCK["rooted chrysanthemum raised cool"],
    "chrysanthemum stool": STOCK["chrysanthemum stool"],
    "salvia": STOCK["rooted salvia raised cool"],
    "salvia at rest": (Species.SALVIA, Material.CLUMP, Raised.COOL),
    "tuberous begonia, unrooted": (Species.TUBEROUS_BEGONIA, Material.UNROOTED, Raised.COOL),
    "tuberous begonia, rooted": STOCK["rooted tuberous begonia raised cool"],
}


def tables():
    """The two tables for growers: name -> (degrees, losses as said), and the reasoned rows above them."""
    text = (ROOT / "docs" / "figures.md").read_text(encoding="utf-8").replace("\u2212", "-")
    found, heads = [], ()
    for line in text.splitlines():
        cells = [one.strip() for one in line.strip("|").split("|")]
        if cells[0] == "three hours in the box at":
            heads = tuple(float(one.removesuffix(" °C")) for one in cells[1:])
            found.append({})
        elif heads and len(cells) == len(heads) + 1 and not cells[0].startswith("---"):
            found[-1][cells[0]] = dict(zip(heads, cells[1:], strict=True))
        elif not line:
            heads = ()
    reasoned = {
        cells[0].removeprefix("cold: "): tuple(float(one) for one in cells[1].split(" / "))
        for line in text.splitlines()
        if (cells := [one.strip() for one in line.strip("|").split("|")])[0].startswith("cold: ")
    }
    return *found, reasoned


def test_the_growers_table_of_cold_says_what_the_curves_say():
    cold, _hot, _reasoned = tables()

    assert cold.keys() == STOCK.keys()
    for name, told in cold.items():
        for degrees, text in told.items():
            assert text == said(1 - kept(a_kind(*STOCK[name]).cold, degrees)), (name, degrees)


def test_the_growers_table_of_heat_says_what_the_curves_say():
    _cold, hot, _reasoned = tables()

    assert hot.keys() == HOT.keys()
    for name, told in hot.items():
        for degrees, text in told.items():
            assert text == said(1 - kept(a_kind(*HOT[name]).heat, degrees)), (name, degrees)


def test_every_pair_of_cold_temperatures_has_its_reason():
    _cold, _hot, reasoned = tables()

    assert reasoned == {name: tolerance(*stock).cold for name, stock in REASONED.items()}


def test_a_rooted_dahlia_raised_in_heat_loses_ten_in_a_hundred_in_three_hours_at_two_degrees():
    assert said(loss(a_kind(raised=Raised.IN_HEAT), 2.0, 15, 0)) == "10"


def said(chance):
    return in_hundred(float(chance)).replace("\u00a0", " ").removesuffix(" in 100")
