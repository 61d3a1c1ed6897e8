"""Which batch a spare comes from, and what is just possible and just beyond."""

from datetime import timedelta

import pytest

from exchange.actions.kernel.edits import EditedMeanwhileError, version_of
from exchange.actions.kernel.refusals import RefusedError
from exchange.actions.sharing.set_aside import SetAsideRefusedError
from exchange.actions.sharing.spare_withdrawal import (
    hold_spare_again,
    release_held,
    withdraw_spare,
)
from exchange.actions.sharing.spares import EDITED, SparePromisedError, change_spare
from exchange.domain.growing.batch import Material, Raised
from exchange.domain.sharing.box.entry import MOST_PLANTS_A_LINE
from exchange.records import BATCHES, MEMBERS, SPARES
from tests.app_fixtures import NOW
from tests.builders.offers import (
    TODAY,
    a_batch,
    a_claim,
    a_spare,
    a_variety,
    give,
    new_spare,
    protect,
    row,
    rows,
)


def test_a_spare_comes_from_the_batch_most_like_it(circle):
    variety_id = a_variety(circle)
    kinds = [
        (Material.YOUNG_PLANT, Raised.COOL),
        (Material.ROOTED, Raised.IN_HEAT),
        (Material.ROOTED, Raised.COOL),
    ]
    batches = [
        a_batch(circle, variety_id=variety_id, material=material, raised=raised)
        for material, raised in kinds
    ]

    spares = [
        row(
            circle, SPARES, a_spare(circle, variety_id=variety_id, material=material, raised=raised)
        )
        for material, raised in [*reversed(kinds), (Material.CLUMP, Raised.COOL)]
    ]

    assert [one.batch_id for one in spares] == [*reversed(batches), batches[0]]
    assert len(rows(circle, BATCHES)) == 3


def test_a_batch_of_another_place_or_variety_is_not_the_one_it_comes_from(circle):
    variety_id = a_variety(circle)
    others = {
        a_batch(circle, "Effie", variety_id=variety_id),
        a_batch(circle, variety_id=a_variety(circle, "Copper Psalm")),
    }

    spare = row(circle, SPARES, a_spare(circle, variety_id=variety_id))

    assert spare.batch_id not in others


def test_a_spare_of_the_same_variety_keeps_its_batch_and_whether_it_is_held(circle):
    variety_id = a_variety(circle)
    protect(circle, variety_id)
    spare_id = a_spare(circle, variety_id=variety_id)
    release_held(circle.actor("Winnie"), spare_id, NOW)
    a_batch(circle, variety_id=variety_id, material=Material.CLUMP)
    before = row(circle, SPARES, spare_id)

    changed = new_spare(variety_id, material=Material.CLUMP, count=5)
    change_spare(circle.actor("Cuthbert"), spare_id, changed, NOW)

    after = row(circle, SPARES, spare_id)
    assert (after.batch_id, after.held, after.count) == (before.batch_id, False, 5)


def test_a_spare_that_becomes_another_variety_comes_from_a_batch_of_that(circle):
    spare_id = a_spare(circle)
    other = a_variety(circle, "Copper Psalm")
    batch = a_batch(circle, variety_id=other, material=Material.ROOTED)

    change_spare(circle.actor("Cuthbert"), spare_id, new_spare(other), NOW)

    assert row(circle, SPARES, spare_id).batch_id == batch


@pytest.mark.parametrize(
    ("said", "field"),
    [
        ({"count": 0}, "count"),
        ({"material": Material.SEED}, "material"),
        (
            {"send_by": TODAY - timedelta(days=1), "ready_from": TODAY - timedelta(days=2)},
            "send_by",
        ),
        ({"health_on": TODAY + timedelta(days=1)}, "health_on"),
    ],
)
def test_a_change_is_looked_over_like_a_new_spare(circle, said, field):
    variety_id = a_variety(circle)
    spare_id = a_spare(circle, variety_id=variety_id)

    with pytest.raises(RefusedError) as refused:
        change_spare(circle.actor("Cuthbert"), spare_id, new_spare(variety_id, **said), NOW)

    assert refused.value.field == field


@pytest.mark.parametrize(
    "said",
    [
        {"count": 1},
        {"count": MOST_PLANTS_A_LINE},
        {"health_on": TODAY},
        {"ready_from": TODAY, "send_by": TODAY},
        {"send_by": TODAY + timedelta(days=366)},
        {"ready_from": TODAY - timedelta(days=366)},
    ],
)
def test_what_is_just_possible_is_listed(circle, said):
    spare = row(circle, SPARES, a_spare(circle, **said))

    assert {name: getattr(spare, name) for name in said} == said


@pytest.mark.parametrize(
    ("said", "field"),
    [
        ({"count": MOST_PLANTS_A_LINE + 1}, "count"),
        ({"send_by": TODAY + timedelta(days=367)}, "send_by"),
        ({"ready_from": TODAY - timedelta(days=367)}, "ready_from"),
    ],
)
def test_what_is_just_beyond_is_not(circle, said, field):
    with pytest.raises(RefusedError) as refused:
        a_spare(circle, **said)

    assert refused.value.field == field


def test_a_remark_is_kept_on_one_line_and_cut_at_its_five_hundredth_letter(circle):
    spare = row(circle, SPARES, a_spare(circle, note="pot up\n at once", health_by="x" * 501))

    assert (spare.note, len(spare.health_by)) == ("pot up at once", 500)


def test_nothing_is_set_aside_for_a_household_that_has_left(circle):
    variety_id = a_variety(circle)
    spare_id = a_spare(circle, variety_id=variety_id)
    gone = circle["Effie"].household_id
    with circle.house.books.writing() as tx:
        MEMBERS.change(tx, circle.circle_id, circle["Effie"].id, left_at=NOW)

    for_the_gone = new_spare(variety_id, set_aside_for=gone)
    with pytest.raises(SetAsideRefusedError) as listed:
        a_spare(circle, variety_id=variety_id, set_aside_for=gone)
    with pytest.raises(SetAsideRefusedError) as changed:
        change_spare(circle.actor("Cuthbert"), spare_id, for_the_gone, NOW)

    assert (listed.value.field, changed.value.field) == ("set_aside_for", "set_aside_for")
    assert str(listed.value) == str(changed.value) == "Choose one of these."
    assert [one.set_aside_for for one in rows(circle, SPARES)] == [None]


def test_a_change_written_on_an_older_spare_is_refused(circle):
    variety_id = a_variety(circle)
    spare_id = a_spare(circle, variety_id=variety_id, count=3)
    opened = version_of(row(circle, SPARES, spare_id), EDITED)
    cuthbert = circle.actor("Cuthbert")
    change_spare(cuthbert, spare_id, new_spare(variety_id, count=4), NOW, opened=opened)

    with pytest.raises(EditedMeanwhileError):
        change_spare(cuthbert, spare_id, new_spare(variety_id, count=5), NOW, opened=opened)

    assert row(circle, SPARES, spare_id).count == 4


def test_roots_are_not_seen_where_nobody_says_so(circle):
    assert row(circle, SPARES, a_spare(circle)).roots_seen is False


def test_a_spare_withdrawn_twice_is_gone_from_the_first_time(circle):
    spare_id = a_spare(circle)
    cuthbert = circle.actor("Cuthbert")
    withdraw_spare(cuthbert, spare_id, NOW)

    withdraw_spare(cuthbert, spare_id, NOW + timedelta(days=1))

    assert row(circle, SPARES, spare_id).withdrawn_at == NOW


def test_a_spare_let_go_by_mistake_is_held_again_until_it_is_promised(circle):
    variety_id = a_variety(circle)
    protect(circle, variety_id)
    spare_id = a_spare(circle, variety_id=variety_id)
    release_held(circle.actor("Winnie"), spare_id, NOW)

    hold_spare_again(circle.actor("Winnie"), spare_id, NOW)
    held = row(circle, SPARES, spare_id).held
    release_held(circle.actor("Winnie"), spare_id, NOW)
    give(circle, spare_id, a_claim(circle, variety_id=variety_id))

    assert held
    with pytest.raises(SparePromisedError):
        hold_spare_again(circle.actor("Winnie"), spare_id, NOW)


def test_the_organiser_corrects_the_variety_of_somebody_elses_spare(circle):
    spare_id = a_spare(circle, "Cuthbert", a_variety(circle, "Tin Kettle"))
    right = a_variety(circle, "Copper Pan")

    change_spare(circle.actor("Winnie"), spare_id, new_spare(right), NOW)

    (batch,) = rows(circle, BATCHES)
    assert (batch.variety_id, batch.household_id) == (right, circle["Cuthbert"].household_id)
