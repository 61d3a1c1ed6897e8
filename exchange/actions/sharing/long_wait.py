"""What becomes of a parcel that has waited too long: the organiser is asked, and chooses."""

from dataclasses import dataclass
from datetime import date, datetime, timedelta

from exchange.actions.kernel.actor import Actor, circle_of, note, today_in
from exchange.actions.kernel.letters import write
from exchange.actions.kernel.refusals import RefusedError
from exchange.actions.kernel.tasks import ask
from exchange.actions.kernel.terms import posting_terms
from exchange.actions.posting.diary import first_names
from exchange.actions.posting.parcel_letters import both_ends, parcel_words
from exchange.actions.posting.replan import gather
from exchange.actions.sharing.allocation_answers import end_allocation
from exchange.actions.sharing.reserve import ask_reserve
from exchange.domain.growing.batch import Material, Raised
from exchange.domain.permissions import Permission
from exchange.domain.posting.parcel import ParcelState
from exchange.domain.posting.way import Carriage
from exchange.domain.sharing.states import AllocationState
from exchange.records import (
    ALLOCATIONS,
    MEMBERS,
    PARCEL_LINES,
    PARCELS,
    SPARES,
    WAYS,
    Tx,
    parcel_heads,
)
from exchange.records.rows.growing import SpareChange
from exchange.records.rows.posting import ParcelRow
from exchange.words.kernel.letters import LetterReader
from exchange.words.posting import questions as words

GROWN_ON_AFTER = timedelta(days=21)
"""How long potted-on rooted cuttings take to become young plants (judgement)."""


class NotWaitingError(RefusedError):
    """The parcel does not wait."""


class NoWayByHandError(RefusedError):
    """The circle uses no way by hand."""


class TooLateToGrowOnError(RefusedError):
    """Grown on, the plants would be ready after the last day to send them."""


@dataclass(frozen=True, slots=True)
class LongWait:
    """A parcel that has waited longer than the circle lets it.

    Attributes
    ----------
    waited : since it first had no day [d]
    """

    parcel: ParcelRow
    waited: int


def long_waits(actor: Actor, now: datetime) -> tuple[LongWait, ...]:
    """Give the parcels that have waited too long, the longest first; for the organiser's first page."""
    actor.must(Permission.RUN_CIRCLE)
    with actor.books.reading() as tx:
        return waited_too_long(tx, actor, now)


def ask_organisers(actor: Actor, now: datetime) -> int:
    """Ask the organisers about each parcel that has waited too long, once for each wait.

    Returns
    -------
    how many parcels [parcels]
    """
    actor.must(Permission.RUN_CLOCK)
    with actor.books.writing() as tx:
        circle = circle_of(actor, tx)
        found = waited_too_long(tx, actor, now)
        organisers = MEMBERS.all(tx, actor.circle_id, organiser=True, left_at=None)
        names = first_names(tx, actor.circle_id)
        for one in found:
            to, _receiver = both_ends(one.parcel)
            about = parcel_words(tx, actor.circle_id, one.parcel, to.other_id)
            link = f"{actor.house.public_url}/parcels/{one.parcel.id}"
            waited = (one.waited, one.parcel.reasons)
            sender = names.get(to.household_id, "")
            for member in organisers:
                reader = LetterReader(member.first_name, circle.name)
                letter = words.waited_long(reader, about, sender, waited, link)
                key = f"long_wait:{one.parcel.id}:{one.parcel.waiting_since}:{member.id}"
                write(tx, actor.house, member, letter, key, now)
    return len(found)


def send_by_hand(actor: Actor, parcel_id: int, now: datetime) -> None:
    """Let a waiting parcel go by hand."""
    with actor.books.writing() as tx:
        parcel = _waiting(tx, actor, parcel_id)
        by_hand = WAYS.find(tx, actor.circle_id, carriage=Carriage.BY_HAND, used=True)
        if by_hand is None:
            raise NoWayByHandError("The circle uses no way by hand; add one first.")
        PARCELS.change(tx, actor.circle_id, parcel_id, chosen_way_id=by_hand.id, changed_at=now)
        note(tx, actor, "lets a parcel go by hand", parcel.code, now)
        ask(tx, actor, "plan", None, now)


def grow_on(actor: Actor, parcel_id: int, now: datetime) -> date:
    """Let the sender grow the plants on; rooted cuttings then go as young plants, raised cool.

    Returns
    -------
    the day from which they can go
    """
    with actor.books.writing() as tx:
        parcel = _waiting(tx, actor, parcel_id)
        ready = today_in(circle_of(actor, tx), now) + GROWN_ON_AFTER
        for row in PARCEL_LINES.all(tx, actor.circle_id, parcel_id=parcel_id):
            allocation = ALLOCATIONS.get(tx, actor.circle_id, row.allocation_id)
            spare = SPARES.get(tx, actor.circle_id, allocation.spare_id)
            if ready > spare.send_by:
                raise TooLateToGrowOnError(
                    "They would be ready after the last day to send them; ask the sender."
                )
            grown: SpareChange = {"ready_from": max(ready, spare.ready_from)}
            if spare.material is Material.ROOTED:
                grown["material"] = Material.YOUNG_PLANT
            if spare.raised is Raised.IN_HEAT:
                grown["raised"] = Raised.COOL
            SPARES.change(tx, actor.circle_id, spare.id, **grown)
        PARCELS.change(tx, actor.circle_id, parcel_id, waiting_since=None, changed_at=now)
        note(tx, actor, "has plants grown on", parcel.code, now)
        ask(tx, actor, "plan", None, now)
    return ready


def give_to_reserve(actor: Actor, parcel_id: int, now: datetime) -> None:
    """Take the plants from the parcel; the next who asked for them are then given them."""
    with actor.books.writing() as tx:
        parcel = _waiting(tx, actor, parcel_id)
        varieties = set()
        for row in PARCEL_LINES.all(tx, actor.circle_id, parcel_id=parcel_id):
            allocation = ALLOCATIONS.get(tx, actor.circle_id, row.allocation_id)
            end_allocation(tx, actor, allocation, AllocationState.FAILED, now)
            varieties.add(SPARES.get(tx, actor.circle_id, allocation.spare_id).variety_id)
        note(tx, actor, "gave a parcel to the reserve", parcel.code, now)
        gather(tx, actor.circle_id, now)
        for variety_id in sorted(varieties):
            ask_reserve(tx, actor, variety_id, now)


def ask_later(actor: Actor, parcel_id: int, now: datetime) -> None:
    """Let a parcel wait on; the organiser is asked again after the longest wait."""
    with actor.books.writing() as tx:
        parcel = _waiting(tx, actor, parcel_id)
        today = today_in(circle_of(actor, tx), now)
        PARCELS.change(tx, actor.circle_id, parcel_id, waiting_since=today, changed_at=now)
        note(tx, actor, "lets a parcel wait on", parcel.code, now)


def waited_too_long(tx: Tx, actor: Actor, now: datetime) -> tuple[LongWait, ...]:
    """Give the parcels that have waited too long, the longest first, within an act."""
    circle = circle_of(actor, tx)
    today, longest = today_in(circle, now), posting_terms(circle).longest_wait
    found = [
        LongWait(one, (today - one.waiting_since).days)
        for one in parcel_heads.heads(tx, actor.circle_id, held=True, state=ParcelState.PLANNED)
        if one.waiting_since is not None and (today - one.waiting_since).days >= longest
    ]
    return tuple(sorted(found, key=lambda one: (-one.waited, one.parcel.id)))


def _waiting(tx: Tx, actor: Actor, parcel_id: int) -> ParcelRow:
    actor.must(Permission.RUN_CIRCLE)
    parcel = PARCELS.get(tx, actor.circle_id, parcel_id)
    if not parcel.held or parcel.state is not ParcelState.PLANNED:
        raise NotWaitingError("This parcel does not wait any more.")
    return parcel
