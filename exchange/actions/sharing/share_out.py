"""The share-out: opened, worked out as a task, reviewed, confirmed once."""

import json
from collections.abc import Callable
from dataclasses import dataclass
from datetime import date, datetime
from typing import TypeVar

from exchange.actions.kernel.actor import Actor, circle_of, note, today_in
from exchange.actions.kernel.refusals import RefusedError
from exchange.actions.kernel.same_facts import on_same_facts
from exchange.actions.kernel.tasks import ask
from exchange.actions.sharing.allocations import give
from exchange.actions.sharing.closing_day import check_closing_day
from exchange.actions.sharing.share_out_case import share_out_case
from exchange.actions.sharing.share_out_letters import tell_results
from exchange.actions.sharing.share_out_proposal import THIN, choices_of, proposal_of
from exchange.actions.sharing.share_out_state import (
    AlreadyConfirmedError,
    must_be_alone,
    must_be_open,
)
from exchange.domain.growing.names import one_line
from exchange.domain.optimise.programme import Watch
from exchange.domain.permissions import Permission
from exchange.domain.sharing.case import Allocation, ShareOutCase
from exchange.domain.sharing.draw import shown_at_opening
from exchange.domain.sharing.instance import case_values
from exchange.domain.sharing.quantities import PinRefused, Remark, WrongQuantity
from exchange.domain.sharing.share_out import ShareOut, never_stop, work_out
from exchange.domain.sharing.states import UNCONFIRMED
from exchange.domain.sharing.thin import thin_parcels
from exchange.records import ANSWERS, SHARE_OUTS, Tx
from exchange.records.columns import to_plain
from exchange.records.rows.sharing import ShareOutRow
from exchange.records.share_outs import WorkedOut, confirm, keep_result
from exchange.records.spares import NotEnoughLeftError
from exchange.words.sharing.share_out import pin_sentence, remark_sentence

Result = TypeVar("Result")


class NotWorkedOutError(RefusedError):
    """There is nothing to confirm."""


class CannotBeWorkedOutError(RefusedError):
    """A number of plants, or a choice of the organiser's, is impossible."""


class ChangedSinceError(RefusedError):
    """Spares or claims changed after the share-out was worked out."""


@dataclass(frozen=True, slots=True)
class NewShareOut:
    """A share-out to be opened; the draw number is made at the door."""

    name: str
    closes_on: date
    draw_number: str


@dataclass(frozen=True, slots=True)
class Confirmed:
    """What confirming gave [plants, claims met in full], and the task that plans the parcels."""

    plants: int
    met: int
    task_id: int


def open_share_out(actor: Actor, new: NewShareOut, now: datetime) -> int:
    """Open a share-out; only the hash of its draw number is shown until closing."""
    actor.must(Permission.RUN_SHARE_OUT)
    with actor.books.writing() as tx:
        return _record_opened(tx, actor, new, now)


def _record_opened(tx: Tx, actor: Actor, new: NewShareOut, now: datetime) -> int:
    must_be_alone(tx, actor.circle_id)
    today = today_in(circle_of(actor, tx), now)
    check_closing_day(new.closes_on, today)
    share_out_id = SHARE_OUTS.add(
        tx,
        actor.circle_id,
        name=one_line(new.name) or "Share-out",
        opens_on=today,
        closes_on=new.closes_on,
        draw_number=new.draw_number,
        draw_hash=shown_at_opening(new.draw_number),
    )
    note(tx, actor, "opened a share-out", new.name, now)
    return share_out_id


def ask_to_work_out(actor: Actor, share_out_id: int, now: datetime) -> int:
    """Ask for a share-out to be worked out, and give the task that does it."""
    actor.must(Permission.RUN_SHARE_OUT)
    with actor.books.writing() as tx:
        must_be_open(SHARE_OUTS.get(tx, actor.circle_id, share_out_id))
        return ask(tx, actor, "share_out", share_out_id, now)


def work_out_share_out(actor: Actor, share_out_id: int, watch: Watch, now: datetime) -> ShareOut:
    """Work a share-out out and keep the result for review; nobody is told.

    Raises
    ------
    AlreadyConfirmedError, CancelledError
        When it was confirmed or cancelled before or meanwhile.
    CannotBeWorkedOutError
        When a number or a choice of the organiser is impossible.
    Stopped
        When `watch` asks to stop; nothing is kept.
    """
    return _work_out(actor, share_out_id, watch, now, lambda _tx, found: found)


def work_out_open_one(
    actor: Actor, watch: Watch, now: datetime, then: Callable[[Tx, ShareOut], Result]
) -> Result:
    """Do the same with the share-out that is open, and a step more where the result is kept.

    Parameters
    ----------
    then : the step; what it gives is given

    Raises
    ------
    NotWorkedOutError
        When none is open.
    """
    return _work_out(actor, None, watch, now, then)


def _work_out(
    actor: Actor,
    share_out_id: int | None,
    watch: Watch,
    now: datetime,
    then: Callable[[Tx, ShareOut], Result],
) -> Result:
    """Read, solve without a lock, and record."""
    actor.must(Permission.RUN_SHARE_OUT)
    with actor.books.reading() as tx:
        share_out = _one(tx, actor, share_out_id)
        must_be_open(share_out)
        stamp = circle_of(actor, tx).stamp
        case = share_out_case(tx, actor.circle_id, share_out, now)
    found = work_out_case(case, watch)
    thin = [to_plain(one) for one in thin_parcels(case, found.allocations)]
    with actor.books.writing() as tx:
        # Choices made meanwhile are kept; confirming then asks for the rest to be worked out again.
        chosen = choices_of(SHARE_OUTS.get(tx, actor.circle_id, share_out.id))
        kept = keep_result(
            tx,
            actor.circle_id,
            share_out.id,
            WorkedOut({**proposal_of(found, case, chosen), THIN: thin}, found.working, now, stamp),
        )
        if not kept:
            must_be_open(SHARE_OUTS.get(tx, actor.circle_id, share_out.id))
        note(tx, actor, "worked out a share-out", share_out.name, now)
        return then(tx, found)


def work_out_case(case: ShareOutCase, watch: Watch) -> ShareOut:
    """Work a case out; what is impossible is said in a sentence.

    Raises
    ------
    CannotBeWorkedOutError
        When a number of plants or a choice of the organiser is impossible.
    """
    try:
        return work_out(case, watch)
    except WrongQuantity as error:
        raise CannotBeWorkedOutError(str(error)) from error
    except PinRefused as error:
        raise CannotBeWorkedOutError(
            f"One of your choices stands in the way. {pin_sentence(error)} Take it back."
        ) from error


def confirm_share_out(actor: Actor, share_out_id: int | None, now: datetime) -> Confirmed:
    """Confirm what was reviewed: the plants are given, and everybody is told.

    Parameters
    ----------
    share_out_id : None for the one that is open

    Raises
    ------
    NotWorkedOutError, AlreadyConfirmedError
        When there is nothing to confirm, or somebody else was first.
    ChangedSinceError
        When spares, claims or room changed since it was worked out; it must be worked out again.
    """
    actor.must(Permission.RUN_SHARE_OUT)
    return on_same_facts(
        actor,
        lambda tx: _may_be_confirmed(tx, actor, share_out_id, now),
        lambda tx, share_out: _record_confirmed(tx, actor, share_out, now),
    )


def _may_be_confirmed(tx: Tx, actor: Actor, share_out_id: int | None, now: datetime) -> ShareOutRow:
    """Refuse what cannot be confirmed; the case is built without the write lock."""
    share_out = _one(tx, actor, share_out_id)
    must_be_open(share_out)
    if share_out.proposal is None or share_out.working is None:
        raise NotWorkedOutError("Work the share-out out first.")
    if has_changed(tx, actor.circle_id, share_out, now):
        raise ChangedSinceError(
            "Spares, claims, room or terms changed since this was worked out. Work it out again."
        )
    return share_out


def _record_confirmed(tx: Tx, actor: Actor, seen: ShareOutRow, now: datetime) -> Confirmed:
    share_out = SHARE_OUTS.get(tx, actor.circle_id, seen.id)
    if share_out.worked_at != seen.worked_at or share_out.proposal is None:
        raise ChangedSinceError("It has just been worked out anew. Look at it again.")
    if not confirm(tx, actor.circle_id, share_out.id, now):
        raise AlreadyConfirmedError("Somebody else has just confirmed this share-out.")
    plants = _give(tx, actor, share_out, now)
    met = sum(one["standing"] == "met" for one in share_out.proposal["answers"])
    note(tx, actor, "confirmed a share-out", share_out.name, now)
    tell_results(tx, actor, share_out, now)
    return Confirmed(plants, met, ask(tx, actor, "plan", None, now))


def has_changed(tx: Tx, circle_id: int, share_out: ShareOutRow, now: datetime) -> bool:
    """Say whether what a share-out was worked out from has changed."""
    if share_out.working is None:
        return False
    case = share_out_case(tx, circle_id, share_out, now)
    return bool(to_plain(case_values(case)) != share_out.working["case"])


def share_out_now(actor: Actor, new: NewShareOut, now: datetime) -> int:
    """Open a share-out that closes today and work it out at once, as a small circle does.

    Raises
    ------
    AlreadyOpenError, CannotBeWorkedOutError
        As opening and working out do.
    """
    actor.must(Permission.RUN_SHARE_OUT)
    with actor.books.writing() as tx:
        share_out_id = _record_opened(tx, actor, new, now)
    return _work_out(actor, share_out_id, never_stop, now, lambda _tx, _found: share_out_id)


def _one(tx: Tx, actor: Actor, share_out_id: int | None) -> ShareOutRow:
    """Give the share-out of a number, or the one that is open or under review."""
    if share_out_id is not None:
        return SHARE_OUTS.get(tx, actor.circle_id, share_out_id)
    running = SHARE_OUTS.find(tx, actor.circle_id, state=UNCONFIRMED)
    if running is None:
        raise NotWorkedOutError("No share-out is open; open one first.")
    return running


def remarks_on(share_out: ShareOutRow) -> tuple[str, ...]:
    """Say why a share-out as a whole gave nothing, if it did."""
    proposal = share_out.proposal or {}
    return tuple(remark_sentence(Remark(one)) for one in proposal.get("remarks", ()))


def working_of(actor: Actor, share_out_id: int) -> str:
    """Give the working of a share-out as JSON, for the second program to check.

    Raises
    ------
    NotWorkedOutError
        When nothing was worked out yet.
    """
    actor.must(Permission.RUN_SHARE_OUT)
    with actor.books.reading() as tx:
        share_out = SHARE_OUTS.get(tx, actor.circle_id, share_out_id)
    if share_out.working is None:
        raise NotWorkedOutError("Work the share-out out first.")
    return json.dumps(share_out.working, ensure_ascii=False, indent=1) + "\n"


def _give(tx: Tx, actor: Actor, share_out: ShareOutRow, now: datetime) -> int:
    proposal = share_out.proposal or {}
    plants = 0
    for one in proposal["allocations"]:
        given = Allocation(one["spare_id"], one["claim_id"], one["count"])
        try:
            give(tx, actor.circle_id, share_out.id, given, now)
        except NotEnoughLeftError as error:
            raise ChangedSinceError(
                "A spare has changed since this was worked out. Work it out again."
            ) from error
        plants += one["count"]
    for one in proposal["answers"]:
        ANSWERS.add(
            tx,
            actor.circle_id,
            share_out_id=share_out.id,
            claim_id=one["claim_id"],
            given=one["given"],
            reason={"sentence": one["sentence"], "standing": one["standing"], **one["reason"]},
        )
    return plants
