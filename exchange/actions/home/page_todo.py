"""What needs doing: everything that waits for a household, and for the organiser the circle."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date, datetime, timedelta

from exchange.actions.home.chores import (
    Chore,
    ChoreKind,
    circle_chores,
    organisers_chores,
    parcel_chores,
)
from exchange.actions.home.day_questions import questions_on_days
from exchange.actions.home.first_steps import FirstSteps, first_steps
from exchange.actions.kernel.actor import Actor, circle_of, today_in
from exchange.actions.posting.diary import first_names
from exchange.actions.posting.page_room import RoomAhead, room_ahead
from exchange.actions.posting.post_anyway import OfferedDay, offered_day
from exchange.actions.sharing.claims import is_old
from exchange.actions.sharing.page_spare import open_share_out
from exchange.actions.weather.frost_tonight import FrostTonight, cold_places
from exchange.domain.diary import EntryKind
from exchange.domain.growing.variety import Species
from exchange.domain.permissions import Permission
from exchange.domain.plan import ParcelPlan
from exchange.domain.posting.parcel import ParcelState
from exchange.domain.sharing.states import AllocationState
from exchange.records import (
    ALLOCATIONS,
    BATCHES,
    DIARY,
    HOUSEHOLDS,
    PARCEL_LINES,
    PARCELS,
    PLACES,
    VARIETIES,
    Tx,
    parcel_heads,
)
from exchange.records.claims import lacking_claims
from exchange.records.columns import from_plain
from exchange.records.rows.posting import DiaryRow, ParcelRow
from exchange.records.rows.sharing import ShareOutRow
from exchange.words.kernel.phrase import as_sentence
from exchange.words.posting import posting_days as posting_words

CLOSING_SOON = timedelta(days=7)
MOST_RESTING = 12


@dataclass(frozen=True, slots=True)
class Waiting:
    """A parcel without a day that is told, under the ground line.

    Attributes
    ----------
    when : "No day yet", or the week it is meant for
    said : whether it is not ready, waits or has no way, and until when
    offered : the best day, where none is good enough
    """

    entry: ParcelRow
    receiver: str
    when: str
    said: str
    offered: OfferedDay | None


@dataclass(frozen=True, slots=True)
class TodoPage:
    """What needs doing.

    Attributes
    ----------
    chores : what is due, the most urgent first
    frost : places of the household where pots stand too cold tonight
    coming : dates still to come
    waiting : own parcels without a day yet
    share_out : open and closing later, or None
    room : room for pots in the coming weeks, None where no room is given
    first_steps : those of a new circle or member, None once they have ended
    """

    chores: tuple[Chore, ...]
    frost: tuple[FrostTonight, ...]
    coming: tuple[DiaryRow, ...]
    waiting: tuple[Waiting, ...]
    share_out: ShareOutRow | None
    room: RoomAhead | None
    today: date
    first_steps: FirstSteps | None


def todo_page(actor: Actor, now: datetime) -> TodoPage:
    """Show what needs doing for the household, and for an organiser in the circle."""
    household_id = actor.own_household()
    actor.must(Permission.SEE_CIRCLE)
    runs_circle = actor.organiser and actor.acting_for is None
    with actor.books.reading() as tx:
        chores = list(organisers_chores(tx, actor, now)) if runs_circle else []
        places = PLACES.all(tx, actor.circle_id, household_id=household_id)
        today = today_in(circle_of(actor, tx), now)
        parcels = parcel_heads.heads(tx, actor.circle_id)
        share_out = open_share_out(tx, actor.circle_id)
        rows = DIARY.all(tx, actor.circle_id, household_id=household_id, cancelled_on=None)
        chores += [
            *parcel_chores(tx, actor.circle_id, household_id, parcels, today),
            *questions_on_days(tx, actor, parcels, today),
            *_care(rows, parcels, today),
            *_answers(tx, actor, parcels),
            *_own_terms(tx, actor, parcels, today),
            *_begonias(tx, actor, today),
            *_closing(tx, actor, share_out, today),
            *_still_wanted(tx, actor, now, today),
        ]
        if runs_circle:
            chores += circle_chores(tx, actor.circle_id, parcels, share_out, today)
        return TodoPage(
            tuple(sorted(chores, key=lambda one: (one.kind, one.day, one.name))),
            cold_places(tx, actor.circle_id, places, now),
            tuple(_coming(rows, parcels, today))[:MOST_RESTING],
            tuple(_waiting(tx, actor, parcels, today)),
            share_out if share_out and share_out.closes_on > today + CLOSING_SOON else None,
            room_ahead(tx, actor.circle_id, household_id, parcels, today),
            today,
            first_steps(tx, actor, today),
        )


def _care(rows: Iterable[DiaryRow], parcels: Iterable[ParcelRow], today: date) -> Iterator[Chore]:
    """Give, for each parcel that came, the steps of care that fall on today."""
    here = {one.id: one for one in parcels if one.state is ParcelState.ARRIVED}
    steps: dict[int, list[DiaryRow]] = {}
    for row in rows:
        entry = here.get(row.parcel_id or 0)
        if (
            row.kind is EntryKind.CARE
            and entry is not None
            and row.first_day <= today <= row.last_day
        ):
            steps.setdefault(entry.id, []).append(row)
    for parcel_id, due in steps.items():
        code = here[parcel_id].code
        last = min(row.last_day for row in due)
        lines = tuple(row.title.removesuffix(f" – {code}") for row in due)
        yield Chore(ChoreKind.CARE, last, code, parcel_id, lines=lines)


def _coming(
    rows: Iterable[DiaryRow], parcels: Iterable[ParcelRow], today: date
) -> Iterator[DiaryRow]:
    """Give the dates to come; care of what has not come yet is left to the parcel's page."""
    here = {one.id for one in parcels if one.state is ParcelState.ARRIVED}
    for row in rows:
        if row.tentative:
            continue
        if row.first_day > today and (row.kind is not EntryKind.CARE or row.parcel_id in here):
            yield row


def _answers(tx: Tx, actor: Actor, parcels: Iterable[ParcelRow]) -> Iterator[Chore]:
    """Give one chore for all own parcels in which something still waits for the sender's yes."""
    asked = {
        one.id for one in ALLOCATIONS.all(tx, actor.circle_id, state=AllocationState.CONFIRMED)
    }
    held = {
        row.parcel_id for row in PARCEL_LINES.all(tx, actor.circle_id) if row.allocation_id in asked
    }
    own = [
        one
        for one in parcels
        if one.sender_household_id == actor.household_id
        and one.state in {ParcelState.PLANNED, ParcelState.ANNOUNCED}
        and one.id in held
    ]
    if own:
        day = min(one.posting_day or date.max for one in own)
        yield Chore(ChoreKind.AGREE, day, number=len(own))


def _own_terms(tx: Tx, actor: Actor, parcels: Iterable[ParcelRow], today: date) -> Iterator[Chore]:
    """Ask for an address once a parcel is planned, and for a place before that."""
    household = HOUSEHOLDS.get(tx, actor.circle_id, actor.own_household())
    if not PLACES.all(tx, actor.circle_id, household_id=household.id):
        yield Chore(ChoreKind.SAY_PLACE, today)
    to_come = [
        one
        for one in parcels
        if one.receiver_household_id == household.id and one.closed_at is None
    ]
    if to_come and not household.address.strip():
        day = min((one.posting_day or date.max for one in to_come), default=today)
        yield Chore(ChoreKind.GIVE_ADDRESS, day, number=len(to_come))


def _begonias(tx: Tx, actor: Actor, today: date) -> Iterator[Chore]:
    """Ask of each begonia the household grows whether it has a tuber, while nobody has said."""
    unsaid = VARIETIES.by_id(tx, actor.circle_id, species=Species.BEGONIA, merged_into=None)
    held = BATCHES.all(
        tx, actor.circle_id, household_id=actor.own_household(), variety_id=set(unsaid)
    )
    for variety_id in sorted({one.variety_id for one in held if one.plants}):
        yield Chore(ChoreKind.BEGONIA, today, unsaid[variety_id].name, variety_id)


def _closing(tx: Tx, actor: Actor, share_out: ShareOutRow | None, today: date) -> Iterator[Chore]:
    if share_out is None or actor.household_id is None:
        return
    if today <= share_out.closes_on <= today + CLOSING_SOON:
        own = [
            one
            for one in lacking_claims(tx, actor.circle_id)
            if one.household_id == actor.household_id
        ]
        yield Chore(ChoreKind.CLAIMS_CLOSE, share_out.closes_on, share_out.name, number=len(own))


def _still_wanted(tx: Tx, actor: Actor, now: datetime, today: date) -> Iterator[Chore]:
    """Ask about claims of an earlier season."""
    old = [
        one
        for one in lacking_claims(tx, actor.circle_id)
        if one.household_id == actor.household_id and is_old(one, now)
    ]
    if old:
        yield Chore(ChoreKind.STILL_WANTED, today, number=len(old))


def _waiting(tx: Tx, actor: Actor, parcels: Iterable[ParcelRow], today: date) -> Iterator[Waiting]:
    names = first_names(tx, actor.circle_id)
    ids = {
        one.id
        for one in parcels
        if one.sender_household_id == actor.household_id and one.state is ParcelState.PLANNED
    }
    for one in PARCELS.all(tx, actor.circle_id, id=ids):
        plan = from_plain(ParcelPlan, one.plan) if one.plan else None
        said = " ".join((posting_words.answer(plan), *one.reasons[:1])) if plan else ""
        when = posting_words.about_week(one.posting_day) if one.posting_day else "no day yet"
        receiver = names.get(one.receiver_household_id, "")
        yield Waiting(
            one,
            receiver,
            as_sentence(when).rstrip("."),
            said or "No day yet.",
            offered_day(one, today),
        )
