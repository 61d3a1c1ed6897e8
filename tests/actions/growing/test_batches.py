"""Who grows what: reporting plants, counting again."""

import pytest

from exchange.actions.growing.batches import (
    BatchInUseError,
    NewBatch,
    NotOwnPlaceError,
    count_batch,
    grow_too,
    remove_batch,
)
from exchange.actions.kernel.actor import NotAllowedError
from exchange.actions.kernel.refusals import RefusedError
from exchange.domain.growing.shelter import ShelterKind
from exchange.records import BATCHES, DEEDS
from tests.app_fixtures import NOW
from tests.builders.offers import a_batch, a_spare, a_variety, row, rows


def test_telling_again_of_the_same_counts_anew(circle):
    variety_id = a_variety(circle)

    assert a_batch(circle, variety_id=variety_id, plants=2) == a_batch(
        circle, variety_id=variety_id, plants=5
    )
    assert [batch.plants for batch in rows(circle, BATCHES)] == [5]


def test_another_shelter_is_another_batch(circle):
    variety_id = a_variety(circle)
    a_batch(circle, variety_id=variety_id, shelter=ShelterKind.COLD)
    a_batch(circle, variety_id=variety_id, shelter=ShelterKind.INDOORS)

    assert len(rows(circle, BATCHES)) == 2


@pytest.mark.parametrize("plants", [-1, 10_001, 10**9])
def test_a_count_that_cannot_be_is_refused(circle, plants):
    with pytest.raises(RefusedError) as refused:
        a_batch(circle, plants=plants)

    assert refused.value.field == "plants"


def test_zero_is_a_count(circle):
    batch_id = a_batch(circle, plants=3)

    count_batch(circle.actor("Cuthbert"), batch_id, 0, NOW)

    assert row(circle, BATCHES, batch_id).plants == 0
    assert rows(circle, DEEDS)[-1].what == "Tin Kettle: 3, now 0"


def test_nobody_tells_of_plants_in_the_place_of_another(circle):
    new = NewBatch(a_variety(circle), 3, place_id=circle.place("Effie").id)

    with pytest.raises(NotOwnPlaceError):
        grow_too(circle.actor("Cuthbert"), new, NOW)


def test_nobody_counts_the_plants_of_another(circle):
    batch_id = a_batch(circle, "Effie", plants=3)

    with pytest.raises(NotAllowedError):
        count_batch(circle.actor("Cuthbert"), batch_id, 0, NOW)


def test_plants_written_down_by_mistake_are_removed(circle):
    batch_id = a_batch(circle, "Effie", a_variety(circle))

    remove_batch(circle.actor("Effie"), batch_id, NOW)

    assert rows(circle, BATCHES) == ()


def test_only_their_household_and_the_organiser_remove_them(circle):
    batch_id = a_batch(circle, "Effie", a_variety(circle))

    with pytest.raises(NotAllowedError):
        remove_batch(circle.actor("Cuthbert"), batch_id, NOW)
    remove_batch(circle.actor("Winnie"), batch_id, NOW)

    assert rows(circle, BATCHES) == ()


def test_plants_that_spares_were_listed_from_are_only_counted_anew(circle):
    variety_id = a_variety(circle)
    batch_id = a_batch(circle, "Cuthbert", variety_id)
    a_spare(circle, variety_id=variety_id)

    with pytest.raises(BatchInUseError, match="Spares were listed"):
        remove_batch(circle.actor("Cuthbert"), batch_id, NOW)


def test_plants_that_came_in_a_parcel_are_taken_back_there(circle):
    batch_id = a_batch(circle, "Effie", a_variety(circle), origin="parcel Bramble 27")

    with pytest.raises(BatchInUseError, match="They came in parcel Bramble 27"):
        remove_batch(circle.actor("Effie"), batch_id, NOW)
