"""Re-planning: facts are read, the plan is made outside any transaction, and recorded if still true."""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime
from typing import TypeVar

from exchange.actions.kernel.actor import Actor, circle_of, today_in
from exchange.actions.kernel.refusals import RefusedError
from exchange.actions.posting.announcements import Planned, planned_columns
from exchange.actions.posting.diary import rewrite_diary
from exchange.actions.posting.packaged_ways import ensure_ways
from exchange.actions.posting.parcel_letters import tell_asked, tell_moved
from exchange.actions.posting.parcel_lines import Given, line_of
from exchange.actions.posting.plan_facts import facts_of, parcels
from exchange.domain.facts import Facts
from exchange.domain.permissions import Permission
from exchange.domain.plan import Plan, make_plan
from exchange.domain.posting.grouping import AllocationToSend, Grouped, group
from exchange.domain.posting.moved import Moved
from exchange.domain.posting.parcel import Parcel
from exchange.domain.sharing.states import STANDING
from exchange.records import (
    ALLOCATIONS,
    CLAIMS,
    DIARY,
    PARCEL_LINES,
    PARCELS,
    SPARES,
    VARIETIES,
    Tx,
    circles,
)

Result = TypeVar("Result")

TRIES = 3


class FactsKeepChangingError(RefusedError):
    """The facts changed each time while the plan was being made."""


@dataclass(frozen=True, slots=True)
class Replanned:
    """What re-planning did.

    Attributes
    ----------
    moved : parcels whose announced day no longer stands, with what became of it
    """

    plan: Plan
    moved: tuple[tuple[int, Moved], ...]


def replan(actor: Actor, now: datetime) -> Replanned:
    """Gather allocations into parcels and choose every open parcel's day.

    Raises
    ------
    FactsKeepChangingError
        When somebody changed the facts each time before the plan could be recorded.
    """
    return replan_then(actor, now, lambda _tx, replanned: replanned)


def replan_then(actor: Actor, now: datetime, then: Callable[[Tx, Replanned], Result]) -> Result:
    """Do the same, and a step more in the transaction in which the plan is recorded.

    Parameters
    ----------
    then : the step; what it gives is given
    """
    actor.must(Permission.SEE_CIRCLE)
    with actor.books.writing() as tx:
        gather(tx, actor.circle_id, now)
    for _try in range(TRIES):
        with actor.books.reading() as tx:
            stamp = circle_of(actor, tx).stamp
            facts = facts_of(tx, actor.circle_id, now)
        plan = make_plan(facts, now)
        with actor.books.writing() as tx:
            if _still_true(tx, actor, facts, (stamp, now)):
                _record(tx, actor, facts, plan, now)
                return then(tx, Replanned(plan, _moves(plan)))
    raise FactsKeepChangingError(
        "Somebody else is changing the circle just now. Please plan again in a minute."
    )


def _still_true(tx: Tx, actor: Actor, facts: Facts, read: tuple[int, datetime]) -> bool:
    """Say whether the plan's facts still hold; a parcel posted meanwhile changes no stamp.

    Parameters
    ----------
    read : the circle's stamp and the now with which the facts were read
    """
    stamp, now = read
    unchanged = circles.get(tx, actor.circle_id).stamp == stamp
    return unchanged and parcels(tx, actor.circle_id, now) == facts.parcels


def gather(tx: Tx, circle_id: int, now: datetime) -> None:
    """Bring the parcels in line with the allocations that stand, within an act."""
    ensure_ways(tx, circle_id)
    known = parcels(tx, circle_id, now)
    grouped = group(consignments(tx, circle_id), known)
    _write_groups(tx, circle_id, grouped, now)


def consignments(tx: Tx, circle_id: int) -> tuple[AllocationToSend, ...]:
    """Give every allocation that stands, with its two ends."""
    spares, claims = SPARES.by_id(tx, circle_id), CLAIMS.by_id(tx, circle_id)
    varieties = VARIETIES.by_id(tx, circle_id)
    found = []
    for one in ALLOCATIONS.all(tx, circle_id, state=STANDING):
        spare, claim = spares[one.spare_id], claims[one.claim_id]
        line = line_of(Given(one.id, spare, claim, varieties[spare.variety_id]), one.count)
        found.append(
            AllocationToSend(
                line, spare.household_id, spare.place_id, claim.household_id, claim.place_id
            )
        )
    return tuple(found)


def _write_groups(tx: Tx, circle_id: int, grouped: Grouped, now: datetime) -> None:
    for parcel_id in grouped.gone:
        # The dates of a parcel outlive it: calendars show them as cancelled for a while.
        for row in DIARY.all(tx, circle_id, parcel_id=parcel_id):
            DIARY.change(tx, circle_id, row.id, parcel_id=None)
        PARCELS.remove(tx, circle_id, parcel_id)
    for parcel in grouped.kept:
        _write_lines(tx, circle_id, parcel.id, parcel)
    for parcel in grouped.new:
        parcel_id = PARCELS.add(
            tx,
            circle_id,
            code=parcel.code,
            sender_household_id=parcel.sender_household_id,
            sender_place_id=parcel.sender_place_id,
            receiver_household_id=parcel.receiver_household_id,
            receiver_place_id=parcel.receiver_place_id,
            reasons=(),
            plan={},
            changed_at=now,
        )
        _write_lines(tx, circle_id, parcel_id, parcel)


def _write_lines(tx: Tx, circle_id: int, parcel_id: int, parcel: Parcel) -> None:
    wanted: dict[int, int] = {}
    for line in parcel.lines:
        wanted[line.allocation_id] = wanted.get(line.allocation_id, 0) + line.count
    for row in PARCEL_LINES.all(tx, circle_id, parcel_id=parcel_id):
        if wanted.get(row.allocation_id) == row.count:
            del wanted[row.allocation_id]
        else:
            PARCEL_LINES.remove(tx, circle_id, row.id)
    for allocation_id, count in sorted(wanted.items()):
        PARCEL_LINES.add(
            tx, circle_id, parcel_id=parcel_id, allocation_id=allocation_id, count=count
        )


def _record(tx: Tx, actor: Actor, facts: Facts, plan: Plan, now: datetime) -> None:
    today = today_in(circle_of(actor, tx), now)
    before = PARCELS.by_id(tx, actor.circle_id)
    for one in plan.parcels:
        entry = before[one.parcel_id]
        columns: Planned = planned_columns(one, entry, today, now)
        if any(getattr(entry, name) != value for name, value in columns.items()):
            PARCELS.change(tx, actor.circle_id, one.parcel_id, changed_at=now, **columns)
    rewrite_diary(tx, actor.circle_id, facts, now)
    for parcel_id, moved in _moves(plan):
        tell_moved(tx, actor, parcel_id, moved, now)
    for one in plan.parcels:
        if one.asked is not None:
            tell_asked(tx, actor, one.parcel_id, one.asked, now)


def _moves(plan: Plan) -> tuple[tuple[int, Moved], ...]:
    return tuple((one.parcel_id, one.moved) for one in plan.parcels if one.moved is not None)
