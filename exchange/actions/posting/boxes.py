"""One box or two: a parcel is put into two, or two between the same ends into one."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime

from exchange.actions.kernel.actor import Actor, note
from exchange.actions.kernel.refusals import RefusedError
from exchange.actions.kernel.tasks import ask
from exchange.actions.posting.in_parcel import spread, stands_for
from exchange.actions.posting.parcel_facts import lines_of, subject_of
from exchange.actions.posting.parcels import AlreadyOnItsWayError, rewrite
from exchange.actions.posting.plan_facts import parcel_value
from exchange.actions.posting.replan import gather
from exchange.domain.permissions import Permission
from exchange.domain.posting.bundling import Apart, why_apart
from exchange.domain.posting.code import new_code
from exchange.domain.posting.parcel import OPEN, Line
from exchange.records import PARCEL_LINES, PARCELS, Tx
from exchange.records.rows.posting import ParcelRow
from exchange.words.posting.boxes import apart as apart_words


class NotTwoParcelsError(RefusedError):
    """Nothing, everything, or more than there is would go into the second parcel."""


class StayApartError(RefusedError):
    """The two parcels cannot become one."""


@dataclass(frozen=True, slots=True)
class InWithIt:
    """A parcel between the same ends, and why it cannot go in with the one looked at."""

    entry: ParcelRow
    plants: int
    why_apart: Apart | None


def with_the_same_ends(tx: Tx, circle_id: int, entry: ParcelRow) -> tuple[InWithIt, ...]:
    """Give the other open parcels between the same two places."""
    first = parcel_value(entry, lines_of(tx, circle_id, entry.id))
    found = []
    for one in PARCELS.all(tx, circle_id, sender_place_id=entry.sender_place_id, state=OPEN):
        if one.id == entry.id or one.receiver_place_id != entry.receiver_place_id:
            continue
        lines = lines_of(tx, circle_id, one.id)
        if lines:
            why = why_apart(first, parcel_value(one, lines))
            found.append(InWithIt(one, sum(line.count for line in lines), why))
    return tuple(found)


def split_parcel(actor: Actor, parcel_id: int, out: Mapping[int, int], now: datetime) -> int:
    """Put some of a parcel's plants into a second one, and give its number; the first keeps its code and day.

    Parameters
    ----------
    out : allocation id -> plants of its kind that go into the second [plants]

    Raises
    ------
    AlreadyOnItsWayError
        When it has gone.
    NotTwoParcelsError
        When nothing would go into the second, nothing stay in the first, or there are not so many.
    """
    with actor.books.writing() as tx:
        entry = _open_one(tx, actor, parcel_id, now)
        lines = lines_of(tx, actor.circle_id, parcel_id)
        moved = _moved(lines, out)
        codes = {one.code for one in PARCELS.all(tx, actor.circle_id)}
        second_id = PARCELS.add(
            tx,
            actor.circle_id,
            code=new_code(codes),
            sender_household_id=entry.sender_household_id,
            sender_place_id=entry.sender_place_id,
            receiver_household_id=entry.receiver_household_id,
            receiver_place_id=entry.receiver_place_id,
            asked_to_post_id=entry.asked_to_post_id,
            poster_household_id=entry.poster_household_id,
            chosen_way_id=entry.chosen_way_id,
            reasons=(),
            plan={},
            changed_at=now,
        )
        _move(tx, actor, parcel_id, second_id, moved)
        note(tx, actor, "put a parcel into two", entry.code, now)
        gather(tx, actor.circle_id, now)
        rewrite(tx, actor, parcel_id, now)
        ask(tx, actor, "plan", None, now)
    return second_id


def bundle_parcels(actor: Actor, parcel_id: int, other_id: int, now: datetime) -> None:
    """Put another parcel between the same ends in with this one, which keeps its code and its day.

    Raises
    ------
    AlreadyOnItsWayError
        When one of them has gone.
    StayApartError
        When they cannot share a box, or a day was told for the other.
    """
    with actor.books.writing() as tx:
        entry = _open_one(tx, actor, parcel_id, now)
        other = _open_one(tx, actor, other_id, now)
        there = with_the_same_ends(tx, actor.circle_id, entry)
        found = next((one for one in there if one.entry.id == other_id), None)
        why = Apart.ENDS if found is None else found.why_apart
        if why is not None:
            raise StayApartError(apart_words(why))
        everything = {
            row.allocation_id: row.count
            for row in PARCEL_LINES.all(tx, actor.circle_id, parcel_id=other_id)
        }
        _move(tx, actor, other_id, parcel_id, everything)
        note(tx, actor, "put two parcels into one", f"{entry.code} and {other.code}", now)
        gather(tx, actor.circle_id, now)
        rewrite(tx, actor, parcel_id, now)
        ask(tx, actor, "plan", None, now)


def _moved(lines: tuple[Line, ...], out: Mapping[int, int]) -> dict[int, int]:
    """Give what goes into the second parcel, by allocation [plants]."""
    inside = {one.allocation_id for one in lines}
    said = {key: count for key, count in out.items() if key in inside and count}
    for key, count in said.items():
        most = sum(one.count for one in stands_for(key, said, lines))
        if not 0 < count <= most:
            raise NotTwoParcelsError(
                f"Write a number from 0 to {most}; so many are in it.", f"out-{key}"
            )
    moved = {key: count for key, count in spread(said, lines).items() if count}
    if not 0 < sum(moved.values()) < sum(one.count for one in lines):
        raise NotTwoParcelsError(
            "Say how many go into the second; one at least stays in the first."
        )
    return moved


def _move(tx: Tx, actor: Actor, from_id: int, to_id: int, moved: Mapping[int, int]) -> None:
    """Move plants from one parcel into another [allocation id -> plants]."""
    here = {
        one.allocation_id: one for one in PARCEL_LINES.all(tx, actor.circle_id, parcel_id=from_id)
    }
    there = {
        one.allocation_id: one for one in PARCEL_LINES.all(tx, actor.circle_id, parcel_id=to_id)
    }
    for key, count in moved.items():
        row = here[key]
        if row.count == count:
            PARCEL_LINES.remove(tx, actor.circle_id, row.id)
        else:
            PARCEL_LINES.change(tx, actor.circle_id, row.id, count=row.count - count)
        if key in there:
            PARCEL_LINES.change(tx, actor.circle_id, there[key].id, count=there[key].count + count)
        else:
            PARCEL_LINES.add(tx, actor.circle_id, parcel_id=to_id, allocation_id=key, count=count)


def _open_one(tx: Tx, actor: Actor, parcel_id: int, now: datetime) -> ParcelRow:
    entry = PARCELS.get(tx, actor.circle_id, parcel_id)
    actor.must(Permission.SAY_POSTED, subject_of(tx, actor, entry, now))
    if entry.state not in OPEN:
        raise AlreadyOnItsWayError("It has gone already.")
    return entry
