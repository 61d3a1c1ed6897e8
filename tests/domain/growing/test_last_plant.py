import pytest

from exchange.domain.growing.batch import Material
from exchange.domain.growing.last_plant import LastPlant, PlantsKept, last_plant

ONLY, NONE = LastPlant.ONLY_ONE, LastPlant.HOLDER_KEEPS_NONE


@pytest.mark.parametrize(
    ("unlisted", "in_circle", "count", "asked"),
    [
        (0, 0, 1, ONLY),
        (0, 0, 2, None),
        (1, 1, 1, ONLY),
        (1, 4, 1, NONE),
        (3, 3, 3, NONE),
        (3, 3, 2, None),
        (3, 3, 5, NONE),
        (0, 3, 2, None),
    ],
)
def test_it_is_asked_where_the_holder_keeps_none_or_it_is_the_only_one(
    unlisted, in_circle, count, asked
):
    assert last_plant(PlantsKept(unlisted, in_circle), count, Material.ROOTED) is asked


@pytest.mark.parametrize("kept", [PlantsKept(0, 0), PlantsKept(1, 1), PlantsKept(3, 3)])
def test_cuttings_taken_from_a_plant_leave_it_where_it_is(kept):
    assert last_plant(kept, 1, Material.UNROOTED) is None
