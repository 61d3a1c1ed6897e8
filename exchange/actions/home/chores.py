"""What waits to be done, as values; words and the page turn it into task lines."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from enum import IntEnum

from exchange.actions.circle.backup import without_backup_since
from exchange.actions.kernel.actor import Actor, circle_of
from exchange.actions.kernel.letters import letters_to_copy
from exchange.actions.posting.diary import arrival_window, first_names
from exchange.actions.sharing.long_wait import waited_too_long
from exchange.domain.posting.parcel import OPEN, ParcelState
from exchange.domain.posting.way import Carriage
from exchange.domain.sharing.states import ShareOutState
from exchange.records import MEMBERS, PARCEL_LINES, WAYS, Tx
from exchange.records.rows.people import MemberRow
from exchange.records.rows.posting import ParcelRow
from exchange.records.rows.sharing import ShareOutRow

A_DAY = timedelta(days=1)


class ChoreKind(IntEnum):
    """What is to be done, the most urgent first."""

    POST = 1
    DID_IT_GO = 2
    DAY_ASKED = 3
    DID_IT_COME = 4
    TAKE_OVER = 5
    CARE = 6
    COMES = 7
    ACT_FOR = 8
    CONFIRM = 9
    WORK_OUT = 10
    PACK = 11
    LONG_WAIT = 12
    AGREE = 13
    GIVE_ADDRESS = 14
    SAY_PLACE = 15
    CLAIMS_CLOSE = 16
    LETTERS = 17
    BEGONIA = 18
    STILL_WANTED = 19
    NO_BACKUP = 20


@dataclass(frozen=True, slots=True)
class Chore:
    """One thing to do.

    Attributes
    ----------
    day : when it is due; in the past where it is overdue
    name : a parcel's code, a member's or share-out's name
    target_id : row of the parcel, member or share-out
    other : first names at the other end
    number : plants, letters or days, by kind
    chance : chance of losing the parcel, where it has a day
    hour : latest hour for handing it over [h], None where none is known
    text : a further name the line needs
    lines : the steps of care
    """

    kind: ChoreKind
    day: date
    name: str = ""
    target_id: int | None = None
    other: str = ""
    number: int = 0
    chance: float | None = None
    hour: float | None = None
    by_hand: bool = False
    text: str = ""
    lines: tuple[str, ...] = ()


def parcel_chores(
    tx: Tx,
    circle_id: int,
    household_id: int,
    parcels: Iterable[ParcelRow],
    today: date,
) -> Iterator[Chore]:
    """Give what a household has to do for the parcels it sends and receives."""
    names = first_names(tx, circle_id)
    ways = {one.id: one for one in WAYS.all(tx, circle_id)}
    own = [
        one
        for one in parcels
        if household_id in (one.posted_by, one.receiver_household_id, one.asked_to_post_id)
    ]
    plants: dict[int, int] = {}
    for row in PARCEL_LINES.all(tx, circle_id, parcel_id={one.id for one in own}):
        plants[row.parcel_id] = plants.get(row.parcel_id, 0) + row.count
    for one in own:
        kind = _sending(one, today) if one.posted_by == household_id else None
        other_id = one.receiver_household_id
        if one.asked_to_post_id == household_id and one.state in OPEN:
            kind, other_id = ChoreKind.TAKE_OVER, one.sender_household_id
        if kind is None and one.receiver_household_id == household_id:
            kind, other_id = _receiving(one, today), one.sender_household_id
        if kind is None:
            continue
        way = ways.get(one.way_id or 0)
        yield Chore(
            kind,
            _due(kind, one, today),
            one.code,
            one.id,
            names.get(other_id, ""),
            plants.get(one.id, 0),
            one.loss_chance,
            way.cut_off_hour if way else None,
            way is not None and way.carriage == Carriage.BY_HAND,
        )


def _sending(one: ParcelRow, today: date) -> ChoreKind | None:
    if one.state is not ParcelState.ANNOUNCED or one.posting_day is None:
        return None
    if one.posting_day == today + A_DAY:
        return ChoreKind.PACK
    if one.posting_day == today:
        return ChoreKind.POST
    return ChoreKind.DID_IT_GO if one.posting_day < today else None


def _receiving(one: ParcelRow, today: date) -> ChoreKind | None:
    window = arrival_window(one)
    gone = one.state is ParcelState.POSTED or (
        one.state is ParcelState.ANNOUNCED
        and one.posting_day is not None
        and one.posting_day < today
    )
    if not gone or window is None or today < window.first:
        return None
    return ChoreKind.COMES if today <= window.last else ChoreKind.DID_IT_COME


def _due(kind: ChoreKind, one: ParcelRow, today: date) -> date:
    window = arrival_window(one)
    if kind in {ChoreKind.COMES, ChoreKind.DID_IT_COME} and window is not None:
        return window.last
    return one.posting_day or today


def circle_chores(
    tx: Tx,
    circle_id: int,
    parcels: tuple[ParcelRow, ...],
    share_out: ShareOutRow | None,
    today: date,
) -> Iterator[Chore]:
    """Give what waits for the organiser: the share-out, and members to act for."""
    if share_out is not None and share_out.closes_on <= today:
        done = share_out.state == ShareOutState.WORKED_OUT
        kind = ChoreKind.CONFIRM if done else ChoreKind.WORK_OUT
        yield Chore(kind, share_out.closes_on, share_out.name, share_out.id)
    yield from _for_others(tx, circle_id, parcels, today)


def organisers_chores(tx: Tx, actor: Actor, now: datetime) -> Iterator[Chore]:
    """Give the long waits to be decided, the letters to hand over, and that no backup is written."""
    since_backup = without_backup_since(actor.house, circle_of(actor, tx), now)
    if since_backup is not None:
        yield Chore(ChoreKind.NO_BACKUP, since_backup)
    for wait in waited_too_long(tx, actor, now):
        one = wait.parcel
        since = one.waiting_since or now.date()
        yield Chore(ChoreKind.LONG_WAIT, since, one.code, one.id, number=wait.waited)
    letters = letters_to_copy(tx, actor.house, actor.circle_id)
    if letters:
        first = min(one.letter.written_at for one in letters)
        yield Chore(ChoreKind.LETTERS, first.date(), number=len(letters))


def _for_others(
    tx: Tx, circle_id: int, parcels: tuple[ParcelRow, ...], today: date
) -> Iterator[Chore]:
    """Give the members without an account whose parcels wait for an answer."""
    households: dict[int, list[MemberRow]] = {}
    for member in MEMBERS.all(tx, circle_id, left_at=None):
        households.setdefault(member.household_id, []).append(member)
    wanted = {ChoreKind.POST, ChoreKind.DID_IT_GO, ChoreKind.DID_IT_COME, ChoreKind.PACK}
    for household_id, members in households.items():
        if any(one.account_id is not None for one in members):
            continue
        due = [
            one
            for one in parcel_chores(tx, circle_id, household_id, parcels, today)
            if one.kind in wanted
        ]
        if due:
            first = min(due, key=lambda one: one.day)
            yield Chore(
                ChoreKind.ACT_FOR,
                first.day,
                members[0].first_name,
                members[0].id,
                number=len(due),
                text=first.name,
            )
