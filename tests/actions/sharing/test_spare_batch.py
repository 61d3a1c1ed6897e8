"""A spare listed as the wrong variety takes the plants along that were written down with it."""

from exchange.actions.growing.batches import count_batch
from exchange.actions.sharing.spares import change_spare
from exchange.domain.growing.batch import Material, Raised
from exchange.records import BATCHES, SPARES
from tests.app_fixtures import NOW
from tests.builders.offers import a_batch, a_spare, a_variety, new_spare, row, rows


def corrected(circle, spare_id, variety_id, **more):
    change_spare(circle.actor("Cuthbert"), spare_id, new_spare(variety_id, **more), NOW)
    return row(circle, SPARES, spare_id)


def test_nobody_is_said_to_grow_the_variety_written_by_mistake(circle):
    wrong, right = a_variety(circle, "Tin Kettle"), a_variety(circle, "Copper Pan")
    spare_id = a_spare(circle, variety_id=wrong)

    spare = corrected(circle, spare_id, right)

    (batch,) = rows(circle, BATCHES)
    assert (batch.variety_id, batch.plants, spare.batch_id) == (right, 3, batch.id)


def test_of_unrooted_cuttings_the_plant_they_are_cut_from_goes_along(circle):
    wrong, right = a_variety(circle, "Tin Kettle"), a_variety(circle, "Copper Pan")
    spare_id = a_spare(circle, variety_id=wrong, material=Material.UNROOTED)

    corrected(circle, spare_id, right, material=Material.UNROOTED)

    assert [(one.variety_id, one.plants) for one in rows(circle, BATCHES)] == [(right, 1)]


def test_plants_told_of_before_stay(circle):
    wrong, right = a_variety(circle, "Tin Kettle"), a_variety(circle, "Copper Pan")
    a_batch(circle, "Cuthbert", wrong, plants=5)
    spare_id = a_spare(circle, variety_id=wrong)

    corrected(circle, spare_id, right)

    assert {one.variety_id for one in rows(circle, BATCHES)} == {wrong, right}


def test_plants_told_of_before_stay_though_there_are_as_many(circle):
    wrong, right = a_variety(circle, "Tin Kettle"), a_variety(circle, "Copper Pan")
    a_batch(circle, "Cuthbert", wrong, plants=3, material=Material.ROOTED, origin="from Odo")
    spare_id = a_spare(circle, variety_id=wrong)

    corrected(circle, spare_id, right)

    assert {one.variety_id for one in rows(circle, BATCHES)} == {wrong, right}


def test_another_spare_of_other_plants_keeps_none_that_were_written_by_mistake(circle):
    wrong, right = a_variety(circle, "Tin Kettle"), a_variety(circle, "Copper Pan")
    spare_id = a_spare(circle, variety_id=wrong)
    a_batch(circle, "Cuthbert", wrong, material=Material.ROOTED, raised=Raised.IN_HEAT)
    a_spare(circle, variety_id=wrong, raised=Raised.IN_HEAT)

    corrected(circle, spare_id, right)

    kept = {(one.variety_id, one.raised) for one in rows(circle, BATCHES)}
    assert kept == {(wrong, Raised.IN_HEAT), (right, Raised.COOL)}


def test_a_spare_whose_plants_are_gone_from_the_records_is_put_right_too(circle):
    wrong, right = a_variety(circle, "Tin Kettle"), a_variety(circle, "Copper Pan")
    spare_id = a_spare(circle, variety_id=wrong)
    with circle.house.books.writing() as tx:
        BATCHES.remove(tx, circle.circle_id, row(circle, SPARES, spare_id).batch_id)

    assert corrected(circle, spare_id, right).variety_id == right


def test_plants_counted_since_or_offered_twice_stay(circle):
    wrong, right = a_variety(circle, "Tin Kettle"), a_variety(circle, "Copper Pan")
    spare_id = a_spare(circle, variety_id=wrong)
    count_batch(circle.actor("Cuthbert"), row(circle, SPARES, spare_id).batch_id, 2, NOW)
    third = a_variety(circle, "Ash over Lowmoor")
    twice = [a_spare(circle, variety_id=third) for _time in range(2)]

    corrected(circle, spare_id, right)
    corrected(circle, twice[0], right)

    assert {one.variety_id for one in rows(circle, BATCHES)} == {wrong, right, third}


def test_plants_of_the_right_one_are_not_counted_twice(circle):
    wrong, right = a_variety(circle, "Tin Kettle"), a_variety(circle, "Copper Pan")
    known = a_batch(circle, "Cuthbert", right, plants=5)
    spare_id = a_spare(circle, variety_id=wrong)

    spare = corrected(circle, spare_id, right)

    assert [(one.id, one.plants) for one in rows(circle, BATCHES)] == [(known, 5)]
    assert spare.batch_id == known
