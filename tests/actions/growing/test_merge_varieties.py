"""Two varieties that are one plant: what moves, that it is undone exactly, and when no longer."""

from datetime import timedelta

import pytest

from exchange.actions.growing.merge_varieties import merge, merge_page, unmerge
from exchange.actions.growing.page_varieties import varieties_page, variety_page
from exchange.actions.growing.varieties import look_up, mark_variety
from exchange.actions.kernel.actor import NotAllowedError
from exchange.actions.kernel.mergers import UNDONE_WITHIN, MergeRefusedError, UndoRefusedError
from exchange.actions.people.members import make_helper
from exchange.actions.sharing.claims import NewClaim, claim
from exchange.actions.sharing.spare_lines import read_box
from exchange.actions.sharing.spare_withdrawal import withdraw_spare
from exchange.actions.sharing.spares import list_spare
from exchange.domain.growing.variety import Species
from exchange.records import BATCHES, CLAIMS, MERGERS, SPARES, VARIETIES
from tests.app_fixtures import NOW
from tests.builders.breaking import BrokenError, break_at, dump
from tests.builders.offers import (
    a_batch,
    a_claim,
    a_spare,
    a_variety,
    give,
    marks,
    new_spare,
    protect,
    row,
    rows,
)

RECORD_OF_ACTS = {"deed", "task", "merger", "circle"}
"""What an undo leaves different: who did what, what was asked for, the stamp of the circle."""


@pytest.fixture
def two(circle):
    """Give two names of one plant, with plants, spares and claims under both."""
    kept, merged = a_variety(circle, "Tin Kettle"), a_variety(circle, "Tinn Kettle")
    other = a_variety(circle, "Ash over Lowmoor")
    a_batch(circle, "Cuthbert", merged)
    a_spare(circle, "Cuthbert", merged)
    withdraw_spare(circle.actor("Effie"), a_spare(circle, "Effie", merged), NOW)
    a_claim(circle, "Effie", merged, asked=2)
    a_claim(circle, "Winnie", kept)
    a_claim(circle, "Winnie", merged)
    a_claim(circle, "Effie", other, alternatives=(merged, kept))
    return circle, kept, merged


def everything(circle):
    return {
        name: table
        for name, table in dump(circle.house.books).items()
        if name not in RECORD_OF_ACTS
    }


def test_all_that_stands_under_the_one_stands_under_the_other(two):
    circle, kept, merged = two

    merge(circle.actor("Winnie"), merged, kept, NOW)

    for repository in (BATCHES, SPARES, CLAIMS):
        assert rows(circle, repository, variety_id=merged) == ()
    assert len(rows(circle, BATCHES, variety_id=kept)) == 2
    assert len(rows(circle, SPARES, variety_id=kept)) == 2
    assert row(circle, VARIETIES, merged).merged_into == kept


def test_a_household_that_waits_for_both_keeps_the_claim_on_the_one_kept(two):
    circle, kept, merged = two

    page = merge_page(circle.actor("Winnie"), merged, kept)
    merge(circle.actor("Winnie"), merged, kept, NOW)

    standing = rows(circle, CLAIMS, variety_id=kept, withdrawn_at=None)
    assert page.withdrawn == 1
    assert sorted(one.household_id for one in standing) == sorted(
        {circle["Effie"].household_id, circle["Winnie"].household_id}
    )


def test_alternatives_name_the_one_kept_once(two):
    circle, kept, merged = two

    merge(circle.actor("Winnie"), merged, kept, NOW)

    assert [one.alternatives for one in rows(circle, CLAIMS) if one.alternatives] == [(kept,)]


def test_what_is_shown_first_is_what_moves(two):
    circle, kept, merged = two

    page = merge_page(circle.actor("Winnie"), merged, kept)

    assert {noun: page.moving[noun] for noun in ("batch", "spare", "claim")} == {
        "batch": 2,
        "spare": 2,
        "claim": 3,
    }
    assert rows(circle, MERGERS) == ()


def test_undo_puts_every_table_back_as_it_was(two):
    circle, kept, merged = two
    before = everything(circle)

    merger_id = merge(circle.actor("Winnie"), merged, kept, NOW)
    assert everything(circle) != before
    unmerge(circle.actor("Winnie"), merger_id, NOW + UNDONE_WITHIN)

    assert everything(circle) == before


def test_undo_also_puts_marks_back(circle):
    kept, merged = a_variety(circle, "Tin Kettle"), a_variety(circle, "Tinn Kettle")
    spare_id = a_spare(circle, variety_id=kept)
    mark = marks(must_not_be_lost=True, because="the last in the county", target_places=5)
    mark_variety(circle.actor("Winnie"), merged, mark, NOW)
    protect(circle, merged)
    before = everything(circle)

    merger_id = merge(circle.actor("Winnie"), merged, kept, NOW)
    held = row(circle, SPARES, spare_id).held
    marked = row(circle, VARIETIES, kept)
    unmerge(circle.actor("Winnie"), merger_id, NOW)

    assert held
    assert marked.protected
    assert everything(circle) == before


def test_must_not_be_lost_goes_along(circle):
    kept, merged = a_variety(circle, "Tin Kettle"), a_variety(circle, "Tinn Kettle")
    mark = marks(must_not_be_lost=True, because="the last in the county", target_places=5)
    mark_variety(circle.actor("Winnie"), merged, mark, NOW)

    merge(circle.actor("Winnie"), merged, kept, NOW)

    after = row(circle, VARIETIES, kept)
    assert (after.must_not_be_lost, after.must_not_be_lost_because) == (
        True,
        "the last in the county",
    )
    assert after.target_places == 5


def test_after_a_month_it_stands(two):
    circle, kept, merged = two
    merger_id = merge(circle.actor("Winnie"), merged, kept, NOW)

    with pytest.raises(UndoRefusedError, match="30 days"):
        unmerge(circle.actor("Winnie"), merger_id, NOW + UNDONE_WITHIN + timedelta(seconds=1))


def test_it_is_undone_once(two):
    circle, kept, merged = two
    merger_id = merge(circle.actor("Winnie"), merged, kept, NOW)
    unmerge(circle.actor("Winnie"), merger_id, NOW)

    with pytest.raises(UndoRefusedError, match="already"):
        unmerge(circle.actor("Winnie"), merger_id, NOW)


def test_plants_promised_since_are_built_on_it(two):
    circle, kept, merged = two
    merger_id = merge(circle.actor("Winnie"), merged, kept, NOW)
    spare = rows(circle, SPARES, variety_id=kept, withdrawn_at=None)[0]
    wish = rows(circle, CLAIMS, variety_id=kept, withdrawn_at=None)[0]
    give(circle, spare.id, wish.id)

    with pytest.raises(UndoRefusedError, match="promised since"):
        unmerge(circle.actor("Winnie"), merger_id, NOW)


def test_another_merger_since_is_built_on_it(two):
    circle, kept, merged = two
    merger_id = merge(circle.actor("Winnie"), merged, kept, NOW)
    third = a_variety(circle, "Copper Kettle")
    later = merge(circle.actor("Winnie"), kept, third, NOW)

    with pytest.raises(UndoRefusedError, match="changed since"):
        unmerge(circle.actor("Winnie"), merger_id, NOW)
    unmerge(circle.actor("Winnie"), later, NOW)
    unmerge(circle.actor("Winnie"), merger_id, NOW)

    assert row(circle, VARIETIES, merged).merged_into is None


def test_the_old_name_leads_to_the_one_kept(two):
    circle, kept, merged = two
    effie = circle.actor("Effie")

    merge(circle.actor("Winnie"), merged, kept, NOW)

    assert look_up(effie, "tinn kettle", Species.DAHLIA).variety.id == kept
    assert a_variety(circle, "Tinn Kettle") == kept
    assert read_box(effie, "3 rooted Tinn Kettle")[0].variety.id == kept
    assert variety_page(effie, merged, NOW).line.variety.id == kept
    assert [one.variety.name for one in varieties_page(effie, "kettle", None, NOW)] == [
        "Tin Kettle"
    ]


def test_a_form_opened_before_still_lists_and_claims_the_right_one(two):
    circle, kept, merged = two
    merge(circle.actor("Winnie"), merged, kept, NOW)

    spare_id = list_spare(circle.actor("Cuthbert"), new_spare(merged), NOW)
    claim_id = claim(circle.actor("Cuthbert"), NewClaim(merged), NOW)
    batch_id = a_batch(circle, "Effie", merged)

    assert row(circle, SPARES, spare_id).variety_id == kept
    assert row(circle, CLAIMS, claim_id).variety_id == kept
    assert row(circle, BATCHES, batch_id).variety_id == kept


def test_only_the_organiser_and_who_helps_with_names_make_two_one(two):
    circle, kept, merged = two

    with pytest.raises(NotAllowedError):
        merge(circle.actor("Effie"), merged, kept, NOW)
    make_helper(circle.actor("Winnie"), circle["Effie"].id, "names", NOW)
    merge(circle.actor("Effie"), merged, kept, NOW)

    assert row(circle, VARIETIES, merged).merged_into == kept


def test_a_variety_is_not_made_one_with_itself(two):
    circle, kept, merged = two
    merge(circle.actor("Winnie"), merged, kept, NOW)

    for one, other in ((kept, kept), (merged, kept)):
        with pytest.raises(MergeRefusedError):
            merge(circle.actor("Winnie"), one, other, NOW)


@pytest.mark.parametrize("step", ["note", "ask", "record_merger"])
def test_a_merger_is_kept_whole_or_not_at_all(two, step, monkeypatch):
    circle, kept, merged = two
    before = dump(circle.house.books)
    break_at(monkeypatch, f"exchange.actions.growing.merge_varieties.{step}")

    with pytest.raises(BrokenError):
        merge(circle.actor("Winnie"), merged, kept, NOW)

    assert dump(circle.house.books) == before


@pytest.mark.parametrize("step", ["note", "ask"])
def test_an_undo_is_kept_whole_or_not_at_all(two, step, monkeypatch):
    circle, kept, merged = two
    merger_id = merge(circle.actor("Winnie"), merged, kept, NOW)
    before = dump(circle.house.books)
    break_at(monkeypatch, f"exchange.actions.growing.merge_varieties.{step}")

    with pytest.raises(BrokenError):
        unmerge(circle.actor("Winnie"), merger_id, NOW)

    assert dump(circle.house.books) == before
