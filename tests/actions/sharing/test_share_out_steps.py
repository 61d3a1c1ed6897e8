"""A share-out step by step: what is kept of it, what it asks for, and what is refused between the steps."""

import json
from datetime import timedelta

import pytest

from exchange.actions.kernel.actor import NotAllowedError
from exchange.actions.sharing import share_out as module
from exchange.actions.sharing.share_out import (
    CannotBeWorkedOutError,
    ChangedSinceError,
    NewShareOut,
    NotWorkedOutError,
    ask_to_work_out,
    confirm_share_out,
    has_changed,
    open_share_out,
    remarks_on,
    share_out_now,
    work_out_open_one,
    work_out_share_out,
    working_of,
)
from exchange.actions.sharing.share_out_choices import NewChoice, choose
from exchange.actions.sharing.share_out_proposal import (
    ChoiceKind,
    choices_of,
    forbids_of,
    pins_of,
    share_out_of,
)
from exchange.actions.sharing.share_out_state import AlreadyConfirmedError
from exchange.domain.optimise.programme import never_stop
from exchange.domain.sharing.case import Allocation
from exchange.domain.sharing.draw import shown_at_opening
from exchange.domain.sharing.quantities import PinRefused
from exchange.domain.sharing.states import ShareOutState
from exchange.records import ANSWERS, SHARE_OUTS, SPARES, TASKS
from exchange.records.spares import NotEnoughLeftError
from tests.app_fixtures import NOW
from tests.builders.offers import row, rows

DAY = timedelta(days=1)


@pytest.fixture
def offered(sharing):
    """Two of Winnie's plants are asked for by Effie, who wants one, and Cuthbert, who wants two."""
    variety = sharing.name()
    spare = sharing.offer("Winnie", variety, count=2)
    claims = {
        who: sharing.ask(who, variety, asked) for who, asked in (("Effie", 1), ("Cuthbert", 2))
    }
    sharing.open()
    return sharing, spare, claims


def test_an_opened_share_out_keeps_its_days_and_its_draw_number(sharing):
    new = NewShareOut("  ", NOW.date() + DAY, "4712")

    kept = row(sharing, SHARE_OUTS, open_share_out(sharing.organiser, new, NOW))

    assert (kept.name, kept.opens_on, kept.closes_on) == ("Share-out", NOW.date(), NOW.date() + DAY)
    assert (kept.draw_number, kept.draw_hash) == ("4712", shown_at_opening("4712"))
    assert kept.state is ShareOutState.OPEN


def test_working_out_is_a_task_about_that_share_out(offered):
    sharing, _spare, _claims = offered

    task = row(sharing, TASKS, ask_to_work_out(sharing.organiser, sharing.share_out_id, NOW))

    assert (task.kind, task.subject_id) == ("share_out", sharing.share_out_id)


def test_a_confirmed_share_out_is_worked_out_no_more(offered):
    sharing, _spare, _claims = offered
    sharing.work_out()
    sharing.confirm()

    for act in (
        lambda: ask_to_work_out(sharing.organiser, sharing.share_out_id, NOW),
        lambda: work_out_share_out(sharing.organiser, sharing.share_out_id, never_stop, NOW),
        lambda: confirm_share_out(sharing.organiser, sharing.share_out_id, NOW),
    ):
        with pytest.raises(AlreadyConfirmedError):
            act()


def test_one_confirmed_while_it_was_worked_out_again_stays_as_it_is(offered):
    sharing, _spare, _claims = offered
    sharing.work_out()

    def confirm_meanwhile(*_told):
        if sharing.row().state is not ShareOutState.CONFIRMED:
            sharing.confirm()
        return False

    with pytest.raises(AlreadyConfirmedError):
        work_out_share_out(sharing.organiser, sharing.share_out_id, confirm_meanwhile, NOW + DAY)

    assert sharing.row().worked_at == NOW


def test_confirming_keeps_an_answer_to_each_claim_and_asks_for_a_plan(offered):
    sharing, spare, claims = offered
    sharing.work_out()

    done = confirm_share_out(sharing.organiser, sharing.share_out_id, NOW)

    answers = {one.claim_id: one for one in rows(sharing, ANSWERS)}
    assert {who: answers[claim].given for who, claim in claims.items()} == {
        "Effie": 1,
        "Cuthbert": 1,
    }
    assert answers[claims["Effie"]].reason["standing"] == "met"
    assert answers[claims["Cuthbert"]].reason["standing"] == "part"
    assert answers[claims["Cuthbert"]].reason["sentence"].endswith(".")
    assert {one.share_out_id for one in answers.values()} == {sharing.share_out_id}
    assert (done.plants, done.met, row(sharing, TASKS, done.task_id).kind) == (2, 1, "plan")
    assert row(sharing, SPARES, spare).allocated == 2


def test_what_is_looked_at_comes_back_as_it_was_worked_out(offered):
    sharing, _spare, _claims = offered

    found = work_out_share_out(sharing.organiser, sharing.share_out_id, never_stop, NOW)

    kept = sharing.row()
    assert share_out_of(kept).allocations == found.allocations
    assert share_out_of(kept).reasons == found.reasons
    assert [(one.number, one.value, one.bound) for one in share_out_of(kept).rules] == [
        (one.number, one.value, one.bound) for one in found.rules
    ]
    assert [one["given"] for one in kept.proposal["answers"]] == [1, 1]
    assert (kept.worked_at, kept.state) == (NOW, ShareOutState.WORKED_OUT)
    assert kept.worked_stamp is not None


def test_who_is_given_nothing_is_answered_with_none(sharing):
    variety = sharing.name()
    sharing.offer("Winnie", variety)
    for who in ("Effie", "Cuthbert"):
        sharing.ask(who, variety)
    sharing.open()

    sharing.work_out()

    assert sorted(one["given"] for one in sharing.row().proposal["answers"]) == [0, 1]


def test_what_was_never_worked_out_comes_back_as_nothing_given(offered):
    sharing, _spare, _claims = offered
    before = share_out_of(sharing.row())

    sharing.work_out()

    assert (before.allocations, before.rules, before.reasons, before.working) == ((), (), {}, {})
    assert share_out_of(sharing.row()).working == sharing.row().working != {}


def test_a_choice_that_stands_in_the_way_is_said_in_a_sentence(offered, monkeypatch):
    sharing, spare, claims = offered

    def refused(*_asked):
        raise PinRefused(spare, claims["Effie"], None)

    monkeypatch.setattr(module, "work_out", refused)

    with pytest.raises(CannotBeWorkedOutError, match=r"^One of your choices .* Take it back\.$"):
        sharing.work_out()


def test_a_pin_and_a_pair_kept_apart_are_kept_with_the_share_out(offered):
    sharing, spare, claims = offered
    pin = NewChoice(spare, claims["Cuthbert"], 2, "their last plant died")
    apart = NewChoice(spare, claims["Effie"], None, "sick stock")

    for one in (pin, apart):
        choose(sharing.organiser, sharing.share_out_id, one, NOW)

    kept = sharing.row()
    assert {one.kind for one in choices_of(kept)} == {ChoiceKind.PIN, ChoiceKind.FORBID}
    assert pins_of(kept) == (Allocation(spare, claims["Cuthbert"], 2),)
    assert forbids_of(kept) == ((spare, claims["Effie"]),)
    sharing.work_out()
    assert sharing.row().proposal["choices"] == kept.proposal["choices"]
    sharing.confirm()
    assert sharing.standing() == {claims["Cuthbert"]: 2}
    assert pins_of(sharing.row()) == ()
    assert forbids_of(sharing.row()) == ((spare, claims["Effie"]),)


def test_a_spare_listed_since_makes_what_was_worked_out_old(offered):
    sharing, _spare, _claims = offered
    sharing.work_out()
    with sharing.house.books.reading() as tx:
        before = has_changed(tx, sharing.circle_id, sharing.row(), NOW)

    sharing.offer("Odo", sharing.name("Tin Kettle"))

    with sharing.house.books.reading() as tx:
        assert (before, has_changed(tx, sharing.circle_id, sharing.row(), NOW)) == (False, True)
    with pytest.raises(ChangedSinceError):
        sharing.confirm()


def test_what_was_never_worked_out_has_not_changed_and_has_no_working(offered):
    sharing, _spare, _claims = offered

    with sharing.house.books.reading() as tx:
        assert has_changed(tx, sharing.circle_id, sharing.row(), NOW) is False
    with pytest.raises(NotWorkedOutError):
        working_of(sharing.organiser, sharing.share_out_id)
    assert remarks_on(sharing.row()) == ()


def test_the_working_is_given_as_text_that_another_program_reads(offered):
    sharing, _spare, _claims = offered
    sharing.work_out()

    text = working_of(sharing.organiser, sharing.share_out_id)

    assert json.loads(text) == sharing.row().working
    assert text.endswith("}\n")
    assert text.splitlines()[1].startswith(' "'), "indented by one, so that it can be read"


def test_a_share_out_that_comes_to_nothing_says_why(sharing):
    sharing.open()
    sharing.work_out()

    assert len(remarks_on(sharing.row())) == 1


def test_a_small_circle_shares_out_at_once_on_the_day_it_opens(offered):
    sharing, _spare, _claims = offered
    sharing.work_out()
    sharing.confirm()
    sharing.offer("Odo", sharing.name("Tin Kettle"))

    new = NewShareOut("Autumn", NOW.date(), "1")
    share_out_id = share_out_now(sharing.organiser, new, NOW)

    assert row(sharing, SHARE_OUTS, share_out_id).state is ShareOutState.WORKED_OUT
    assert confirm_share_out(sharing.organiser, None, NOW).plants == 0
    assert row(sharing, SHARE_OUTS, share_out_id).state is ShareOutState.CONFIRMED


def test_when_none_is_open_there_is_none_to_work_out_or_confirm(sharing):
    for act in (
        lambda: work_out_open_one(sharing.organiser, never_stop, NOW, lambda _tx, found: found),
        lambda: confirm_share_out(sharing.organiser, None, NOW),
    ):
        with pytest.raises(NotWorkedOutError, match="No share-out is open"):
            act()


def test_the_one_that_is_open_is_worked_out_and_read_where_it_is_kept(offered):
    sharing, _spare, _claims = offered

    def kept(tx, found):
        row = SHARE_OUTS.get(tx, sharing.circle_id, sharing.share_out_id)
        return row.working == found.working

    assert work_out_open_one(sharing.organiser, never_stop, NOW, kept)


def test_a_member_works_out_no_open_one(offered):
    sharing, _spare, _claims = offered

    with pytest.raises(NotAllowedError):
        work_out_open_one(sharing.actor("Effie"), never_stop, NOW, lambda _tx, found: found)


def test_only_the_organiser_reads_the_working(offered):
    sharing, _spare, _claims = offered
    sharing.work_out()

    with pytest.raises(NotAllowedError):
        working_of(sharing.actor("Effie"), sharing.share_out_id)


def test_a_spare_taken_in_the_last_moment_stops_the_confirming_and_keeps_nothing(
    offered, monkeypatch
):
    sharing, spare, _claims = offered
    sharing.work_out()

    def none_left(*_asked):
        raise NotEnoughLeftError

    monkeypatch.setattr(module, "give", none_left)

    with pytest.raises(ChangedSinceError, match="A spare has changed"):
        sharing.confirm()
    assert sharing.row().state is ShareOutState.WORKED_OUT
    assert rows(sharing, ANSWERS) == ()
    assert row(sharing, SPARES, spare).allocated == 0


def test_what_is_worked_out_anew_while_it_is_being_confirmed_is_looked_at_first(
    offered, monkeypatch
):
    sharing, _spare, _claims = offered
    sharing.work_out()

    def worked_out_between(actor, look, record):
        with actor.books.reading() as tx:
            seen = look(tx)
        work_out_share_out(sharing.organiser, sharing.share_out_id, never_stop, NOW + DAY)
        with actor.books.writing() as tx:
            return record(tx, seen)

    monkeypatch.setattr(module, "on_same_facts", worked_out_between)

    with pytest.raises(ChangedSinceError, match="worked out anew"):
        sharing.confirm()
    assert sharing.row().state is ShareOutState.WORKED_OUT
