"""What the page of parcels without a day shows: no way, waits for weather, not ready yet."""

from dataclasses import dataclass
from datetime import date, datetime

from exchange.actions.kernel.actor import Actor, circle_of, today_in
from exchange.actions.kernel.terms import posting_terms
from exchange.actions.people.labels import household_names
from exchange.actions.posting.in_parcel import InParcel
from exchange.actions.posting.page_parcels import WITHOUT_DAY, journey_of
from exchange.actions.posting.parcel_facts import lines_of
from exchange.actions.posting.post_anyway import OfferedDay, offered_day
from exchange.actions.posting.warmth_ahead import WaitForWarmth, wait_for_warmth
from exchange.domain.arriving.arrival import JourneyState
from exchange.domain.permissions import Permission, may
from exchange.domain.posting.parcel import ParcelState
from exchange.records import PARCELS, VARIETIES, Tx, parcel_heads
from exchange.records.rows.posting import ParcelRow
from exchange.words.growing.together import together

_OPEN = frozenset({ParcelState.PLANNED, ParcelState.ANNOUNCED})


@dataclass(frozen=True, slots=True)
class NoDayLine:
    """One parcel without a day.

    Attributes
    ----------
    sender, receiver : first names
    is_own : whether the reader's household sends it
    ready : first day on which all in it is ready
    warmth : for one that waits for warmth, else None
    offered : the best day soon, where none is good enough
    """

    entry: ParcelRow
    state: JourneyState
    sender: str
    receiver: str
    is_own: bool
    contents: tuple[InParcel, ...]
    ready: date
    warmth: WaitForWarmth | None
    offered: OfferedDay | None


@dataclass(frozen=True, slots=True)
class NoDayPage:
    """Parcels without a day, the household's own first; for the organiser those of all.

    Attributes
    ----------
    of : parcels that are still to go, with or without a day
    announced_days : at most so long before posting a day is told [d]
    """

    lines: tuple[NoDayLine, ...]
    of: int
    may_plan: bool
    today: date
    announced_days: int

    def in_state(self, state: JourneyState) -> tuple[NoDayLine, ...]:
        """Give those that stand alike."""
        return tuple(one for one in self.lines if one.state is state)

    def by_ready(self) -> tuple[tuple[date, tuple[NoDayLine, ...]], ...]:
        """Give those that are not ready yet by the day from which they are, the soonest first."""
        waiting = self.in_state(JourneyState.NOT_READY)
        return tuple(
            (ready, tuple(one for one in waiting if one.ready == ready))
            for ready in sorted({one.ready for one in waiting})
        )


def no_day_page(actor: Actor, now: datetime) -> NoDayPage:
    """Show the parcels the household is to send that have no day; to the organiser those of all."""
    actor.must(Permission.SEE_CIRCLE)
    household_id = actor.own_household()
    may_plan = may(actor.person, Permission.RUN_CIRCLE)
    with actor.books.reading() as tx:
        circle = circle_of(actor, tx)
        today = today_in(circle, now)
        to_go = [
            one
            for one in parcel_heads.heads(tx, actor.circle_id)
            if one.state in _OPEN and (may_plan or one.sender_household_id == household_id)
        ]
        without = {one.id for one in to_go if journey_of(one, today) in WITHOUT_DAY}
        names = household_names(tx, actor.circle_id)
        lines = [
            _line(tx, actor.circle_id, entry, names, household_id, today)
            for entry in PARCELS.all(tx, actor.circle_id, id=without)
        ]
    lines.sort(key=lambda one: (not one.is_own, one.ready, one.entry.code))
    told = posting_terms(circle).announced_days
    return NoDayPage(tuple(lines), len(to_go), may_plan, today, told)


def _line(
    tx: Tx,
    circle_id: int,
    entry: ParcelRow,
    names: dict[int, str],
    household_id: int | None,
    today: date,
) -> NoDayLine:
    lines = lines_of(tx, circle_id, entry.id)
    varieties = VARIETIES.by_id(tx, circle_id, id={one.variety_id for one in lines})
    is_own = entry.sender_household_id == household_id
    return NoDayLine(
        entry=entry,
        state=journey_of(entry, today),
        sender=names.get(entry.sender_household_id, ""),
        receiver=names.get(entry.receiver_household_id, ""),
        is_own=is_own,
        contents=tuple(
            InParcel(one, varieties[one.variety_id], agreed=True) for one in together(lines)
        ),
        ready=max((one.ready_from for one in lines), default=today),
        warmth=wait_for_warmth(tx, circle_id, entry, lines, today),
        offered=offered_day(entry, today),
    )
