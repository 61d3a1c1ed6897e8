"""Two varieties that turn out to be one plant: asked about, made one, and undone within a month."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import UTC, datetime

from exchange.actions.kernel.actor import Actor, note
from exchange.actions.kernel.mergers import MergeRefusedError, record_merger, take_merger_back
from exchange.actions.kernel.tasks import ask
from exchange.domain.circle.moves import MergerKind, Move, changed, counts
from exchange.domain.growing.merge_varieties import (
    ClaimUnder,
    SpareUnder,
    Under,
    merge_varieties,
    withdrawn,
)
from exchange.domain.permissions import Permission
from exchange.domain.sharing.states import STANDING
from exchange.records import ALLOCATIONS, BATCHES, CLAIMS, MERGERS, SPARES, NotHereError, Tx
from exchange.records.rows.growing import VarietyRow
from exchange.records.varieties import standing_varieties, variety_meant_by

LENT = ("trade_name", "group_id", "size_id")
"""What the kept variety takes from the other where it says nothing itself."""


@dataclass(frozen=True, slots=True)
class MergePage:
    """What merging a variety into another would move.

    Attributes
    ----------
    others : the varieties it may be merged into
    kept : the one chosen, None while none is
    moving : rows that would move [noun -> rows]
    withdrawn : claims withdrawn because their household waits for both [claims]
    """

    merged: VarietyRow
    others: tuple[VarietyRow, ...]
    kept: VarietyRow | None
    moving: Mapping[str, int]
    withdrawn: int


def merge_page(actor: Actor, merged_id: int, kept_id: int | None) -> MergePage:
    """Show what would move if a variety were merged into another."""
    actor.must(Permission.MEND_NAMES)
    with actor.books.reading() as tx:
        merged = variety_meant_by(tx, actor.circle_id, merged_id)
        others = tuple(
            one for one in standing_varieties(tx, actor.circle_id) if one.id != merged.id
        )
        kept = next((one for one in others if one.id == kept_id), None)
        moves = _moves(tx, actor.circle_id, kept, merged, "") if kept else ()
    return MergePage(merged, others, kept, counts(moves), withdrawn(moves))


def merge(actor: Actor, merged_id: int, kept_id: int, now: datetime) -> int:
    """Merge a variety into another: all that stands under it stands under the other from then on.

    Raises
    ------
    MergeRefusedError
        When the two are one already, or one of them was removed.
    """
    actor.must(Permission.MEND_NAMES)
    with actor.books.writing() as tx:
        merged = variety_meant_by(tx, actor.circle_id, merged_id)
        kept = variety_meant_by(tx, actor.circle_id, kept_id)
        if merged.id == kept.id:
            raise MergeRefusedError("They are one already.", "into")
        if merged.removed_at is not None or kept.removed_at is not None:
            raise MergeRefusedError("One of the two was removed; put it back first.", "into")
        at = now.astimezone(UTC).isoformat()
        moves = _moves(tx, actor.circle_id, kept, merged, at)
        merger_id = record_merger(tx, actor, (MergerKind.VARIETY, kept.id, merged.id), moves, now)
        note(tx, actor, "made two varieties one", f"{merged.name}: {kept.name}", now)
        ask(tx, actor, "plan", None, now)
    return merger_id


def unmerge(actor: Actor, merger_id: int, now: datetime) -> int:
    """Take a merger back, and give the variety that was merged.

    Raises
    ------
    UndoRefusedError
        When it is too late for it.
    """
    actor.must(Permission.MEND_NAMES)
    with actor.books.writing() as tx:
        merger = MERGERS.get(tx, actor.circle_id, merger_id)
        if merger.kind is not MergerKind.VARIETY:
            raise NotHereError(f"merger {merger_id} is not of varieties")
        take_merger_back(tx, actor, merger, now)
        name = variety_meant_by(tx, actor.circle_id, merger.merged_id).name
        note(tx, actor, "made one variety two again", name, now)
        ask(tx, actor, "plan", None, now)
    return merger.merged_id


def _moves(
    tx: Tx, circle_id: int, kept: VarietyRow, merged: VarietyRow, at: str
) -> tuple[Move, ...]:
    lent = (
        Move("variety", kept.id, column, getattr(kept, column), getattr(merged, column))
        for column in LENT
        if not getattr(kept, column) and (column == "trade_name" or kept.species is merged.species)
    )
    return (
        *merge_varieties(kept, merged, _under(tx, circle_id, kept.id, merged.id), at),
        *changed(one for one in lent if one.after),
    )


def _under(tx: Tx, circle_id: int, kept_id: int, merged_id: int) -> Under:
    spares = SPARES.all(tx, circle_id, variety_id={kept_id, merged_id})
    given = {one.claim_id for one in ALLOCATIONS.all(tx, circle_id, state=STANDING)}
    return Under(
        tuple(one.id for one in BATCHES.all(tx, circle_id, variety_id=merged_id)),
        tuple(
            SpareUnder(
                one.id,
                one.variety_id,
                one.withdrawn_at is None and not one.allocated and not one.held,
            )
            for one in spares
        ),
        tuple(
            ClaimUnder(
                one.id,
                one.household_id,
                one.variety_id,
                one.alternatives,
                one.withdrawn_at is None and not one.set_aside and one.id not in given,
            )
            for one in CLAIMS.all(tx, circle_id)
        ),
    )
