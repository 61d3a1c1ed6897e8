"""A share-out changed or cancelled before it is confirmed; its draw number stays what it was."""

from dataclasses import dataclass
from datetime import date, datetime

from exchange.actions.kernel.actor import Actor, circle_of, note, today_in
from exchange.actions.kernel.edits import must_be_as_opened, version_of
from exchange.actions.sharing.closing_day import check_closing_day
from exchange.actions.sharing.share_out_state import must_be_alone, must_be_open
from exchange.domain.growing.names import one_line
from exchange.domain.permissions import Permission
from exchange.domain.sharing.states import ShareOutState
from exchange.records import SHARE_OUTS, circles
from exchange.records.rows.sharing import ShareOutRow
from exchange.words.kernel import dates

EDITED = ("name", "closes_on")
"""What the form of a share-out edits: the columns its version is made of."""


@dataclass(frozen=True, slots=True)
class ShareOutToChange:
    """A share-out and what its form begins with."""

    share_out: ShareOutRow
    version: str


def share_out_to_change(actor: Actor, share_out_id: int) -> ShareOutToChange:
    """Show a share-out that may still be changed."""
    actor.must(Permission.RUN_SHARE_OUT)
    with actor.books.reading() as tx:
        share_out = SHARE_OUTS.get(tx, actor.circle_id, share_out_id)
    return ShareOutToChange(share_out, version_of(share_out, EDITED))


def change_share_out(
    actor: Actor,
    share_out_id: int,
    to: tuple[str, date],
    now: datetime,
    *,
    opened: str | None = None,
) -> None:
    """Give a share-out another title or closing day; what was worked out for another day is then old.

    Parameters
    ----------
    to : title and closing day

    Raises
    ------
    AlreadyConfirmedError, CancelledError, ClosingDayRefusedError
        When it is too late to change it, or the day cannot be meant.
    """
    actor.must(Permission.RUN_SHARE_OUT)
    name, closes_on = one_line(to[0]) or "Share-out", to[1]
    with actor.books.writing() as tx:
        share_out = SHARE_OUTS.get(tx, actor.circle_id, share_out_id)
        must_be_open(share_out)
        must_be_as_opened(opened, version_of(share_out, EDITED))
        if (share_out.name, share_out.closes_on) == (name, closes_on):
            return
        if closes_on != share_out.closes_on:
            check_closing_day(closes_on, today_in(circle_of(actor, tx), now))
            circles.touch(tx, actor.circle_id)
        SHARE_OUTS.change(tx, actor.circle_id, share_out_id, name=name, closes_on=closes_on)
        what = f"{name}, closes on {dates.day_and_year(closes_on)}"
        note(tx, actor, "changed a share-out", what, now)


def cancel_share_out(actor: Actor, share_out_id: int, now: datetime) -> None:
    """Cancel a share-out: spares and claims wait for the next; nobody was told anything of it.

    Raises
    ------
    AlreadyConfirmedError, CancelledError
        When it is too late to cancel it.
    """
    actor.must(Permission.RUN_SHARE_OUT)
    with actor.books.writing() as tx:
        share_out = SHARE_OUTS.get(tx, actor.circle_id, share_out_id)
        must_be_open(share_out)
        SHARE_OUTS.change(tx, actor.circle_id, share_out_id, state=ShareOutState.CANCELLED)
        circles.touch(tx, actor.circle_id)
        note(tx, actor, "cancelled a share-out", share_out.name, now)


def put_share_out_back(actor: Actor, share_out_id: int, now: datetime) -> None:
    """Undo a cancelling: the same share-out runs again, with the same draw number.

    Raises
    ------
    AlreadyOpenError
        When another has been opened since.
    """
    actor.must(Permission.RUN_SHARE_OUT)
    with actor.books.writing() as tx:
        share_out = SHARE_OUTS.get(tx, actor.circle_id, share_out_id)
        if share_out.state is not ShareOutState.CANCELLED:
            return
        must_be_alone(tx, actor.circle_id)
        state = ShareOutState.OPEN if share_out.working is None else ShareOutState.WORKED_OUT
        SHARE_OUTS.change(tx, actor.circle_id, share_out_id, state=state)
        circles.touch(tx, actor.circle_id)
        note(tx, actor, "took up a cancelled share-out again", share_out.name, now)
