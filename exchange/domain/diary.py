"""The diary: dated entries with stable keys, for a household and for the circle.

An entry names first names and the parcel's code only: no surname, no address, no place.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, timedelta
from enum import StrEnum

from exchange.domain.arriving.arrival import ArrivalWindow
from exchange.domain.arriving.step import CareStep, SafeDateUnknown
from exchange.domain.posting.announced import week_of

DAYS_TO_SUNDAY = timedelta(days=6)
"""From the Monday of a week to its end."""
LONGEST_BANNER_DAYS = 3
"""Care that lasts longer stands on its first day only, so that it hides nothing else [days]."""


class EntryKind(StrEnum):
    """What happens on the days of an entry."""

    POSTING = "posting"
    ARRIVAL = "arrival"
    CARE = "care"
    DISPATCH = "dispatch"


@dataclass(frozen=True, slots=True)
class ParcelDates:
    """What the diary needs of one parcel.

    Attributes
    ----------
    sender_first_name, receiver_first_name : first names only
    posting_day : the day it goes or went, or None while it has none
    announced : whether the posting day is announced; until then its entries are tentative
    expected : the days on which it should come (one day once it came), or None
    plants : plants in it [plants]
    by_hand : whether it is carried instead of posted
    posted, arrived : as told by the members
    care : the receiver's steps of care
    """

    parcel_id: int
    code: str
    sender_household_id: int
    receiver_household_id: int
    sender_first_name: str
    receiver_first_name: str
    posting_day: date | None
    expected: ArrivalWindow | None
    plants: int
    by_hand: bool = False
    posted: bool = False
    arrived: bool = False
    care: tuple[CareStep, ...] = ()
    announced: bool = True


@dataclass(frozen=True, slots=True)
class DiaryEntry:
    """One entry.

    Attributes
    ----------
    key : stable for as long as the entry means the same
    first, last : days, both counted
    with_first_name : the person at the other end; for a dispatch the receiver
    from_first_name : the sender of a dispatch, else empty
    tentative : whether it stands for a day of that week which is not announced yet
    step : the step of care, whose own days may last longer than the entry shows
    """

    key: str
    kind: EntryKind
    first: date
    last: date
    code: str
    plants: int
    with_first_name: str
    by_hand: bool = False
    done: bool = False
    step: CareStep | None = None
    from_first_name: str = ""
    tentative: bool = False


def household_diary(household_id: int, parcels: Iterable[ParcelDates]) -> tuple[DiaryEntry, ...]:
    """Give a household's own entries: what it posts, what comes to it, and the care of that."""
    entries: list[DiaryEntry] = []
    for parcel in parcels:
        if parcel.sender_household_id == household_id:
            entries += _posting(parcel)
        if parcel.receiver_household_id == household_id:
            entries += _arrival(parcel)
            if parcel.announced:
                entries += [_care(parcel, step) for step in parcel.care if _is_dated(step)]
    return _in_order(entries)


def dispatch_diary(parcels: Iterable[ParcelDates]) -> tuple[DiaryEntry, ...]:
    """Give the circle's own entries: a posting day for every parcel that has one."""
    return _in_order(
        DiaryEntry(
            key=f"parcel-{parcel.parcel_id}-dispatch",
            kind=EntryKind.DISPATCH,
            first=_first(parcel, parcel.posting_day),
            last=_last(parcel, parcel.posting_day),
            code=parcel.code,
            plants=parcel.plants,
            with_first_name=parcel.receiver_first_name,
            from_first_name=parcel.sender_first_name,
            by_hand=parcel.by_hand,
            done=parcel.posted or parcel.arrived,
            tentative=not parcel.announced,
        )
        for parcel in parcels
        if parcel.posting_day is not None
    )


def _posting(parcel: ParcelDates) -> list[DiaryEntry]:
    if parcel.posting_day is None:
        return []
    return [
        DiaryEntry(
            key=f"parcel-{parcel.parcel_id}-posting",
            kind=EntryKind.POSTING,
            first=_first(parcel, parcel.posting_day),
            last=_last(parcel, parcel.posting_day),
            code=parcel.code,
            plants=parcel.plants,
            with_first_name=parcel.receiver_first_name,
            by_hand=parcel.by_hand,
            done=parcel.posted or parcel.arrived,
            tentative=not parcel.announced,
        )
    ]


def _first(parcel: ParcelDates, day: date) -> date:
    """Give the first day of an entry: the day itself, or the Monday before one that is not announced."""
    return day if parcel.announced else week_of(day)


def _last(parcel: ParcelDates, day: date) -> date:
    return day if parcel.announced else week_of(day) + DAYS_TO_SUNDAY


def _arrival(parcel: ParcelDates) -> list[DiaryEntry]:
    if parcel.expected is None:
        return []
    return [
        DiaryEntry(
            key=f"parcel-{parcel.parcel_id}-arrival",
            kind=EntryKind.ARRIVAL,
            first=_first(parcel, parcel.expected.first),
            last=parcel.expected.last if parcel.announced else _last(parcel, parcel.expected.first),
            code=parcel.code,
            plants=parcel.plants,
            with_first_name=parcel.sender_first_name,
            by_hand=parcel.by_hand,
            done=parcel.arrived,
            tentative=not parcel.announced,
        )
    ]


def _care(parcel: ParcelDates, step: CareStep) -> DiaryEntry:
    last = step.first if step.last is None else step.last
    is_long = (last - step.first).days >= LONGEST_BANNER_DAYS
    return DiaryEntry(
        key=f"parcel-{parcel.parcel_id}-care-{step.key}",
        kind=EntryKind.CARE,
        first=step.first,
        last=step.first if is_long else last,
        code=parcel.code,
        plants=parcel.plants,
        with_first_name=parcel.sender_first_name,
        step=step,
    )


def _is_dated(step: CareStep) -> bool:
    return not any(isinstance(reason, SafeDateUnknown) for reason in step.reasons)


def _in_order(entries: Iterable[DiaryEntry]) -> tuple[DiaryEntry, ...]:
    return tuple(sorted(entries, key=lambda entry: (entry.first, entry.last, entry.key)))
