"""Until it is confirmed, a share-out can be changed and cancelled; its draw number stays what it was."""

from datetime import date, timedelta

import pytest

from exchange.actions.kernel.actor import NotAllowedError
from exchange.actions.kernel.edits import EditedMeanwhileError
from exchange.actions.sharing.claims import withdraw_claim
from exchange.actions.sharing.closing_day import ClosingDayRefusedError
from exchange.actions.sharing.page_share_outs import share_out_page, share_outs_page
from exchange.actions.sharing.share_out import ChangedSinceError, ask_to_work_out
from exchange.actions.sharing.share_out_changes import (
    cancel_share_out,
    change_share_out,
    put_share_out_back,
    share_out_to_change,
)
from exchange.actions.sharing.share_out_state import (
    AlreadyConfirmedError,
    AlreadyOpenError,
    CancelledError,
)
from exchange.domain.sharing.states import ShareOutState
from exchange.records import DEEDS, LETTERS
from tests.app_fixtures import NOW
from tests.builders.breaking import BrokenError, break_at, dump
from tests.builders.offers import rows

TODAY = NOW.date()
LATER = TODAY + timedelta(days=10)


@pytest.fixture
def opened(sharing):
    """One of Winnie's plants is asked for by Cuthbert; the share-out is worked out."""
    variety = sharing.name()
    sharing.spare = sharing.offer("Winnie", variety, send_by=TODAY + timedelta(days=5))
    sharing.wish = sharing.ask("Cuthbert", variety)
    sharing.open("4711")
    sharing.work_out()
    return sharing


def page_of(sharing):
    return share_out_page(sharing.organiser, sharing.share_out_id, NOW)


def change(sharing, name="Spring", closes_on=LATER, **more):
    change_share_out(sharing.organiser, sharing.share_out_id, (name, closes_on), NOW, **more)


def test_its_title_and_closing_day_change_and_its_draw_number_does_not(opened):
    before = opened.row()

    change(opened, "  Late\nspring ", LATER)

    after = opened.row()
    assert (after.name, after.closes_on) == ("Late spring", LATER)
    assert (after.draw_number, after.draw_hash) == (before.draw_number, before.draw_hash)
    deeds = [one.what for one in rows(opened, DEEDS) if one.act == "changed a share-out"]
    assert deeds == ["Late spring, closes on Thu\u00a015\u00a0April\u00a02027"]


def test_a_new_title_leaves_what_was_worked_out_as_it_is(opened):
    change(opened, "Cuttings", TODAY)

    assert not page_of(opened).stale


def test_another_closing_day_has_to_be_worked_out_again(opened):
    change(opened)

    assert page_of(opened).stale
    with pytest.raises(ChangedSinceError):
        opened.confirm()


def test_spares_to_be_sent_before_the_closing_day_are_counted_as_a_warning(opened):
    opened.offer("Odo", opened.name("Tin Kettle"))
    assert page_of(opened).too_late == 0

    change(opened)

    assert page_of(opened).too_late == 1


@pytest.mark.parametrize("day", [TODAY - timedelta(days=1), date(2072, 4, 11)])
def test_a_day_that_cannot_be_meant_is_refused_beside_its_field(opened, day):
    with pytest.raises(ClosingDayRefusedError) as refused:
        change(opened, closes_on=day)
    assert refused.value.field == "closes_on"
    assert opened.row().closes_on == TODAY


def test_the_second_of_two_who_change_it_is_told(opened):
    seen = share_out_to_change(opened.organiser, opened.share_out_id).version
    change(opened, "First", opened=seen)

    with pytest.raises(EditedMeanwhileError):
        change(opened, "Second", opened=seen)
    assert opened.row().name == "First"


def test_a_cancelled_one_gives_nothing_tells_nobody_and_leaves_claims_open(opened):
    cancel_share_out(opened.organiser, opened.share_out_id, NOW)

    assert opened.row().state is ShareOutState.CANCELLED
    assert opened.given() == []
    assert opened.claim_row(opened.wish).withdrawn_at is None
    assert rows(opened, LETTERS, kind="share_out") == ()
    assert share_outs_page(opened.organiser, NOW).may_open
    for act in (opened.work_out, opened.confirm, lambda: change(opened)):
        with pytest.raises(CancelledError):
            act()
    with pytest.raises(CancelledError):
        ask_to_work_out(opened.organiser, opened.share_out_id, NOW)


def test_a_cancelled_ones_claims_are_met_in_the_next(opened):
    cancel_share_out(opened.organiser, opened.share_out_id, NOW)

    opened.all_of_it()

    assert opened.standing() == {opened.wish: 1}


def test_what_was_cancelled_runs_again_as_it_was(opened):
    before = opened.row()
    cancel_share_out(opened.organiser, opened.share_out_id, NOW)

    put_share_out_back(opened.organiser, opened.share_out_id, NOW)

    assert opened.row() == before
    opened.work_out()
    opened.confirm()
    assert opened.standing() == {opened.wish: 1}


def test_it_does_not_run_again_beside_another(opened):
    cancelled = opened.share_out_id
    cancel_share_out(opened.organiser, cancelled, NOW)
    opened.open("4712")

    with pytest.raises(AlreadyOpenError):
        put_share_out_back(opened.organiser, cancelled, NOW)


def test_once_confirmed_it_is_neither_changed_nor_cancelled(opened):
    opened.confirm()

    with pytest.raises(AlreadyConfirmedError):
        change(opened)
    with pytest.raises(AlreadyConfirmedError):
        cancel_share_out(opened.organiser, opened.share_out_id, NOW)
    put_share_out_back(opened.organiser, opened.share_out_id, NOW)
    assert opened.row().state is ShareOutState.CONFIRMED


def test_only_the_organiser_changes_or_cancels_it(opened):
    effie, one = opened.actor("Effie"), opened.share_out_id

    for act in (
        lambda: change_share_out(effie, one, ("Mine", LATER), NOW),
        lambda: cancel_share_out(effie, one, NOW),
        lambda: put_share_out_back(effie, one, NOW),
        lambda: share_out_to_change(effie, one),
    ):
        with pytest.raises(NotAllowedError):
            act()


@pytest.mark.parametrize("name", ["change", "cancel", "put back"])
def test_each_is_kept_with_its_deed_or_not_at_all(opened, monkeypatch, name):
    one, actor = opened.share_out_id, opened.organiser
    act = {
        "change": lambda: change(opened),
        "cancel": lambda: cancel_share_out(actor, one, NOW),
        "put back": lambda: put_share_out_back(actor, one, NOW),
    }[name]
    if name == "put back":
        cancel_share_out(actor, one, NOW)
    before = dump(opened.house.books)
    break_at(monkeypatch, "exchange.actions.sharing.share_out_changes.note")

    with pytest.raises(BrokenError):
        act()
    assert dump(opened.house.books) == before


def test_claims_met_or_taken_back_are_not_counted_as_waiting(sharing):
    variety = sharing.name()
    sharing.offer("Winnie", variety, count=3)
    sharing.ask("Cuthbert", variety)
    sharing.all_of_it()
    lacking = sharing.ask("Effie", sharing.name("Tin Kettle"), asked=2)
    gone = sharing.ask("Effie", sharing.name("Brass Pin"))
    withdraw_claim(sharing.actor("Effie"), gone, NOW)
    sharing.open("4712")

    page = page_of(sharing)

    assert sharing.standing() != {}
    assert (page.claims, page.spares, page.plants) == (1, 1, 2)
    assert lacking not in sharing.standing()
