import pytest

from exchange.domain.circle.earth import distance_km


def test_a_degree_of_latitude_is_about_111_km():
    assert distance_km((52.0, 0.0), (53.0, 0.0)) == pytest.approx(111.2, abs=0.1)


def test_a_degree_of_longitude_shrinks_toward_the_pole():
    assert distance_km((60.0, 0.0), (60.0, 1.0)) == pytest.approx(55.6, abs=0.1)


def test_the_other_side_of_the_earth_is_half_way_round():
    assert distance_km((0.0, 0.0), (0.0, 180.0)) == pytest.approx(20_015, abs=1)
