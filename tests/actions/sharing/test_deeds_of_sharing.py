"""Every act of sharing is written down, so that "who did what" is whole."""

from datetime import timedelta

import pytest

from exchange.actions.sharing.allocation_answers import agree, decline, refuse
from exchange.actions.sharing.claims import put_claim_back, withdraw_claim, would_like_one
from exchange.actions.sharing.left_overs import take_left_over
from exchange.actions.sharing.sender_answer import SenderAnswer, answer_as_sender
from exchange.actions.sharing.spare_withdrawal import put_back, release_held, withdraw_spare
from exchange.actions.sharing.spares import change_spare
from exchange.domain.growing.batch import Material
from exchange.records import ALLOCATIONS, CLAIMS, DEEDS
from tests.app_fixtures import NOW
from tests.builders.offers import a_claim, a_spare, a_variety, new_spare, row, rows
from tests.builders.season import a_season

WEEK = timedelta(days=7)


def written(circle):
    """Give who did what, newest last."""
    return [(one.actor_id, one.act, one.what, one.done_at) for one in rows(circle, DEEDS)]


@pytest.fixture
def variety(circle):
    return a_variety(circle, "Tin Kettle")


def test_what_becomes_of_a_spare_is_written_down(circle, variety):
    cuthbert, winnie = circle.actor("Cuthbert"), circle.actor("Winnie")
    before = len(written(circle))

    spare = a_spare(circle, variety_id=variety, count=3)
    change_spare(cuthbert, spare, new_spare(variety, count=2), NOW)
    withdraw_spare(cuthbert, spare, NOW)
    put_back(cuthbert, spare, NOW)
    release_held(winnie, spare, NOW)

    by = circle["Cuthbert"].id
    assert written(circle)[before:] == [
        (by, "listed a spare", "3 Tin Kettle", NOW),
        (by, "changed a spare", "2 Tin Kettle", NOW),
        (by, "withdrew a spare", f"spare {spare}", NOW),
        (by, "listed a spare again", f"spare {spare}", NOW),
        (circle["Winnie"].id, "let a held spare go", f"spare {spare}", NOW),
    ]


def test_one_press_beside_a_clump_writes_down_what_it_changes_and_no_more(circle, variety):
    effie, materials = circle.actor("Effie"), frozenset({Material.ROOTED, Material.POT_TUBER})
    claim = a_claim(circle, variety_id=variety, materials=materials)
    clump = a_spare(circle, variety_id=variety, material=Material.CLUMP)
    before = len(written(circle))

    would_like_one(effie, variety, NOW)
    assert row(circle, CLAIMS, claim).materials == materials
    would_like_one(effie, variety, NOW, clump)
    would_like_one(effie, variety, NOW, clump)

    assert row(circle, CLAIMS, claim).materials == materials | {Material.CLUMP}
    assert written(circle)[before:] == [
        (circle["Effie"].id, "takes it as another material too", f"claim {claim}", NOW)
    ]


def test_what_becomes_of_a_claim_is_written_down(circle, variety):
    effie = circle.actor("Effie")
    before = len(written(circle))

    claim = a_claim(circle, variety_id=variety)
    withdraw_claim(effie, claim, NOW)
    put_claim_back(effie, claim, NOW)

    assert written(circle)[before:] == [
        (circle["Effie"].id, act, what, NOW)
        for act, what in (
            ("claimed", "Tin Kettle"),
            ("withdrew a claim", f"claim {claim}"),
            ("claimed again", f"claim {claim}"),
        )
    ]


def test_a_share_out_is_written_down_from_its_opening_to_its_confirming(sharing):
    sharing.offer("Winnie", sharing.name())
    before = len(written(sharing))

    sharing.all_of_it()

    assert written(sharing)[before:] == [
        (sharing.ring["Winnie"].id, act, "Spring", NOW)
        for act in ("opened a share-out", "worked out a share-out", "confirmed a share-out")
    ]


def test_a_left_over_taken_is_written_down(sharing):
    spare = sharing.offer("Winnie", sharing.name(), count=2)
    sharing.all_of_it()

    take_left_over(sharing.actor("Effie"), spare, NOW)

    assert written(sharing)[-1] == (
        sharing.ring["Effie"].id,
        "took a left-over",
        f"spare {spare}",
        NOW,
    )


def test_what_sender_and_receiver_answer_is_written_down(house):
    season = a_season(house, asked=2, count=6, claimants=("Cuthbert", "Effie", "Odo"),
                      members=("Winnie", "Cuthbert", "Effie", "Odo"))  # fmt: skip
    winnie, cuthbert = season.ring.actor("Winnie"), season.ring.actor("Cuthbert")
    given = {one.claim_id: one.id for one in rows(season, ALLOCATIONS)}
    one, other, third = (given[season.claims[name]] for name in ("Cuthbert", "Effie", "Odo"))
    before = len(written(season))
    later = NOW.date() + WEEK

    answer_as_sender(winnie, [SenderAnswer(other, 1, later)], NOW)
    agree(winnie, one, NOW)
    decline(cuthbert, one, NOW)
    refuse(winnie, third, NOW)

    acts = [(by, act, what) for by, act, what, _at in written(season)[before:]]
    assert acts == [
        (winnie.member_id, "could give fewer", f"allocation {other}: 1"),
        (winnie.member_id, "is ready later", f"allocation {other}: {later}"),
        (winnie.member_id, "said yes to an allocation", f"allocation {other}"),
        (winnie.member_id, "said yes to an allocation", f"allocation {one}"),
        (cuthbert.member_id, "declined plants", f"allocation {one}"),
        (winnie.member_id, "could not give", f"allocation {third}"),
    ]
