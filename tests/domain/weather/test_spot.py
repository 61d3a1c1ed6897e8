from dataclasses import dataclass

import pytest

from exchange.domain.weather.climate import LAPSE_K_PER_M, LIE_SHIFT_K, Climate, climate_at


@dataclass
class Garden:
    height_m: float | None
    lie: str
    id: int = 1
    zone: str = "Europe/London"


STATION = Climate("Leuchars", (2.0,) * 12, (9.0,) * 12, (3.0,) * 12, "1991-2020", height_m=10.0)


@pytest.mark.parametrize("lie", LIE_SHIFT_K)
def test_the_lie_moves_nights_alone_and_the_height_the_whole_day(lie):
    found = climate_at(Garden(110.0, lie), STATION)

    assert found.night_shift_k == LIE_SHIFT_K[lie]
    assert found.shift_k == pytest.approx(-100 * LAPSE_K_PER_M)


def test_the_places_own_height_goes_before_the_forecasts():
    own, lent = (climate_at(Garden(height, "open"), STATION, 60.0) for height in (0.0, None))

    assert (own.height_m, lent.height_m) == (0.0, 60.0)


def test_a_file_of_the_place_itself_is_taken_as_it_is():
    own = Climate("own file", (2.0,) * 12, (9.0,) * 12, (3.0,) * 12, "2015-2024")

    assert climate_at(Garden(300.0, "hollow"), own, 60.0) == own
