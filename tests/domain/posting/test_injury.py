import numpy as np
import pytest

from exchange.domain.growing.batch import Material, Raised
from exchange.domain.growing.variety import Species
from exchange.domain.posting.injury import curve, curves, kept, loss, tolerance

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


def test_a_dahlia_tuber_at_freezing_point_is_refused_by_any_limit():
    assert float(loss(a_kind(material=Material.POT_TUBER), 0.0, 12, 1)) > 1 / 20
    assert float(loss(a_kind(material=Material.POT_TUBER), 6.0, 12, 1)) < 1 / 100


def test_a_mild_day_on_the_road_loses_next_to_nothing():
    assert float(loss(a_kind(), 9.0, 16.0, 1)) < 1 / 200


def test_extremes_give_chances_not_overflows():
    with np.errstate(all="raise"):
        chances = loss(a_kind(), np.array([-80.0, 80.0]), np.array([-80.0, 80.0]), 99)
    assert ((chances >= 0) & (chances <= 1)).all()
