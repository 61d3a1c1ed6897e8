"""Two entries made one, in one act; within a month it can be taken back as a whole."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime, timedelta

from exchange.actions.kernel.actor import Actor
from exchange.actions.kernel.refusals import RefusedError
from exchange.domain.circle.moves import MergerKind, Move
from exchange.records import ALLOCATIONS, MERGERS, SHARE_OUTS, Tx
from exchange.records.moves import (
    MovedSinceError,
    do_moves,
    moves_as_kept,
    moves_kept,
    take_moves_back,
)
from exchange.records.rows.circle import MergerRow
from exchange.words.kernel.mergers import has_changed

UNDONE_WITHIN = timedelta(days=30)
"""How long a merger can be taken back (judgement) [d]."""


class MergeRefusedError(RefusedError):
    """The two cannot be made one."""


class UndoRefusedError(RefusedError):
    """The merger cannot be taken back any more."""


@dataclass(frozen=True, slots=True)
class MergerLine:
    """A merger that can still be taken back: its id, what was merged, and on which day."""

    id: int
    merged: str
    done_on: date


def record_merger(
    tx: Tx, actor: Actor, what: tuple[MergerKind, int, int], moves: tuple[Move, ...], now: datetime
) -> int:
    """Do the moves and keep them, within an act.

    Parameters
    ----------
    what : of which kind, the one kept and the one merged into it
    """
    kind, kept_id, merged_id = what
    do_moves(tx, actor.circle_id, moves)
    return MERGERS.add(
        tx,
        actor.circle_id,
        kind=kind,
        kept_id=kept_id,
        merged_id=merged_id,
        moves=moves_as_kept(moves),
        watched=_promised(tx, actor.circle_id, moves),
        done_by=actor.member_id,
        done_at=now,
    )


def take_merger_back(tx: Tx, actor: Actor, merger: MergerRow, now: datetime) -> None:
    """Put everything back as it was before a merger, within an act.

    Raises
    ------
    UndoRefusedError
        When it was taken back before, a month has passed, or something was built on it since.
    """
    if merger.undone_at is not None:
        raise UndoRefusedError("That has been undone already.")
    if now > merger.done_at + UNDONE_WITHIN:
        raise UndoRefusedError(
            f"That can be undone for {UNDONE_WITHIN.days} days, and they are over."
        )
    moves = moves_kept(merger.moves)
    if any(
        one.confirmed_at is not None and one.confirmed_at >= merger.done_at
        for one in SHARE_OUTS.all(tx, actor.circle_id)
    ):
        raise UndoRefusedError(
            "A share-out has been confirmed since, and rests on it; so it can no longer be undone."
        )
    if _promised(tx, actor.circle_id, moves) != merger.watched:
        raise UndoRefusedError(
            "Plants have been promised since that rest on it; so it can no longer be undone."
        )
    try:
        take_moves_back(tx, actor.circle_id, moves)
    except MovedSinceError as moved:
        raise UndoRefusedError(has_changed(moved.noun)) from moved
    MERGERS.change(tx, actor.circle_id, merger.id, undone_at=now)


def can_be_undone(
    tx: Tx, circle_id: int, kind: MergerKind, kept_id: int, now: datetime
) -> tuple[MergerRow, ...]:
    """Give the mergers into one row that are young enough to be taken back."""
    found = MERGERS.all(tx, circle_id, kind=kind, kept_id=kept_id, undone_at=None)
    return tuple(one for one in found if now <= one.done_at + UNDONE_WITHIN)


def _promised(tx: Tx, circle_id: int, moves: Iterable[Move]) -> tuple[int, ...]:
    """Give the allocations that stand on a spare or a claim that moves."""
    spares = {one.row_id for one in moves if one.noun == "spare"}
    claims = {one.row_id for one in moves if one.noun == "claim"}
    found = ALLOCATIONS.all(tx, circle_id)
    return tuple(one.id for one in found if one.spare_id in spares or one.claim_id in claims)
