"""Letters about parcels, to every member of the household they concern."""

from collections.abc import Callable
from collections.abc import Set as AbstractSet
from dataclasses import dataclass
from datetime import date, datetime
from zoneinfo import ZoneInfo

from exchange.actions.kernel.actor import Actor
from exchange.actions.kernel.letters import write
from exchange.actions.people.household_members import members_of
from exchange.actions.posting.parcel_lines import all_that_goes
from exchange.domain.posting.moved import Moved
from exchange.records import (
    ALLOCATIONS,
    MEMBERS,
    PARCEL_LINES,
    PARCELS,
    PLACES,
    SPARES,
    VARIETIES,
    Tx,
    circles,
)
from exchange.records.rows.posting import ParcelRow
from exchange.words.kernel import letters as words
from exchange.words.kernel.letters import LetterReader, LetterText, ParcelWords
from exchange.words.posting import posting_days as posting_words
from exchange.words.posting import questions

Wording = Callable[[LetterReader, ParcelWords, str], LetterText]


@dataclass(frozen=True, slots=True)
class Addressed:
    """Whom a letter about a parcel goes to.

    Attributes
    ----------
    household_id, other_id : the household written to, and the one at the other end
    """

    parcel: ParcelRow
    household_id: int
    other_id: int


def write_to(
    tx: Tx, actor: Actor, to: Addressed, key: str, wording: Wording, now: datetime
) -> None:
    """Write the same letter to each member of a household, once for each key.

    Parameters
    ----------
    wording : makes the letter from the reader, the parcel's words and the page's address
    """
    circle = circles.get(tx, actor.circle_id)
    link = f"{actor.house.public_url}/parcels/{to.parcel.id}"
    about = parcel_words(tx, actor.circle_id, to.parcel, to.other_id)
    for member in members_of(tx, actor.circle_id, to.household_id):
        letter = wording(LetterReader(member.first_name, circle.name), about, link)
        write(tx, actor.house, member, letter, f"{key}:{member.id}", now)


def tell_moved(tx: Tx, actor: Actor, parcel_id: int, moved: Moved, now: datetime) -> None:
    """Tell both ends that an announced day no longer stands, and why.

    A sender who was to post tomorrow or today is told to wait.
    """
    parcel = PARCELS.get(tx, actor.circle_id, parcel_id)
    sender, receiver = both_ends(parcel)
    soon = _soon(tx, actor, parcel, moved.from_day, now)
    if soon:
        _tell_to_wait(tx, actor, sender, moved, now)
    why = posting_words.why_moved(moved)
    days: tuple[date, date | None] = (moved.from_day, moved.to_day if moved.announced else None)
    key = f"moved:{parcel_id}:{moved.from_day}:{moved.to_day}:{now.date()}"
    for to in (receiver,) if soon else (sender, receiver):
        write_to(
            tx, actor, to, key,
            lambda reader, about, link: words.moved(reader, about, days, why, link), now,
        )  # fmt: skip


def tell_asked(tx: Tx, actor: Actor, parcel_id: int, asked: Moved, now: datetime) -> None:
    """Ask whoever chose a parcel's day whether it should be left; once for each ground."""
    parcel = PARCELS.get(tx, actor.circle_id, parcel_id)
    if parcel.day_kept or parcel.day_chosen_by is None:
        return
    chooser = MEMBERS.get(tx, actor.circle_id, parcel.day_chosen_by)
    circle = circles.get(tx, actor.circle_id)
    sender, receiver = both_ends(parcel)
    to = receiver if chooser.household_id == receiver.household_id else sender
    letter = questions.day_asked(
        LetterReader(chooser.first_name, circle.name),
        parcel_words(tx, actor.circle_id, parcel, to.other_id),
        asked.from_day,
        posting_words.asked(asked),
        f"{actor.house.public_url}/parcels/{parcel.id}",
    )
    key = f"day_asked:{parcel_id}:{asked.from_day}:{asked.ground}:{chooser.id}"
    write(tx, actor.house, chooser, letter, key, now)


def _soon(tx: Tx, actor: Actor, parcel: ParcelRow, day: date, now: datetime) -> bool:
    """Say whether the sender's day for it was tomorrow, today or yesterday."""
    place = PLACES.get(tx, actor.circle_id, parcel.sender_place_id)
    today = now.astimezone(ZoneInfo(place.zone)).date()
    return abs((day - today).days) <= 1


def _tell_to_wait(tx: Tx, actor: Actor, to: Addressed, moved: Moved, now: datetime) -> None:
    next_day = moved.to_day if moved.announced else None
    why = posting_words.why_moved(moved)
    key = f"wait_tonight:{to.parcel.id}:{moved.from_day}:{moved.to_day}:{now.date()}"
    write_to(
        tx, actor, to, key,
        lambda reader, about, link: words.wait_tonight(reader, about, next_day, why, link), now,
    )  # fmt: skip


def both_ends(parcel: ParcelRow) -> tuple[Addressed, Addressed]:
    """Give the letter of whoever posts a parcel, and the receiver's."""
    sender, receiver = parcel.posted_by, parcel.receiver_household_id
    return Addressed(parcel, sender, receiver), Addressed(parcel, receiver, sender)


def parcel_words(tx: Tx, circle_id: int, parcel: ParcelRow, other_id: int) -> ParcelWords:
    """Give what letters say of a parcel."""
    others = members_of(tx, circle_id, other_id)
    name = others[0].first_name if others else ""
    return ParcelWords(parcel.code, name, contents(tx, circle_id, parcel.id))


def contents(
    tx: Tx, circle_id: int, parcel_id: int, only: AbstractSet[int] | None = None
) -> tuple[str, ...]:
    """Give one line for each kind of plant in a parcel.

    Parameters
    ----------
    only : these allocations; None for all
    """
    allocations = ALLOCATIONS.by_id(tx, circle_id)
    inside = PARCEL_LINES.all(tx, circle_id, parcel_id=parcel_id)
    rows = [row for row in inside if only is None or row.allocation_id in only]
    spares = SPARES.by_id(
        tx, circle_id, id={allocations[row.allocation_id].spare_id for row in rows}
    )
    varieties = VARIETIES.by_id(tx, circle_id, id={one.variety_id for one in spares.values()})
    parts = ((row.count, spares[allocations[row.allocation_id].spare_id]) for row in rows)
    return all_that_goes(parts, varieties)
