"""Somebody else posts: the sender is ill, and another household takes a parcel over if it will."""

from dataclasses import dataclass
from datetime import datetime

from exchange.actions.kernel.actor import Actor, note
from exchange.actions.kernel.refusals import RefusedError
from exchange.actions.kernel.tasks import ask
from exchange.actions.people.labels import household_labels, household_names
from exchange.actions.posting.parcel_facts import subject_of
from exchange.actions.posting.parcel_letters import Addressed, write_to
from exchange.actions.posting.parcels import AlreadyOnItsWayError, rewrite
from exchange.domain.circle.earth import distance_km
from exchange.domain.permissions import Permission
from exchange.domain.posting.parcel import OPEN
from exchange.records import HOUSEHOLDS, PARCELS, PLACES, Tx
from exchange.records.rows.posting import ParcelRow
from exchange.words.posting import somebody_else as words


class NotAskedError(RefusedError):
    """Nobody is asked to post the parcel any more, or somebody else is."""


class CannotPostItError(RefusedError):
    """That household cannot be asked to post the parcel."""


@dataclass(frozen=True, slots=True)
class SomebodyElsePage:
    """Who could post a parcel instead of its sender.

    Attributes
    ----------
    choices : household id and label, the nearest to the sender first
    """

    entry: ParcelRow
    receiver: str
    choices: tuple[tuple[int, str], ...]


def somebody_else_page(actor: Actor, parcel_id: int, now: datetime) -> SomebodyElsePage:
    """Show who could be asked to post a parcel."""
    with actor.books.reading() as tx:
        entry = _open_one(tx, actor, parcel_id, Permission.HAND_OVER, now)
        names = household_names(tx, actor.circle_id)
        return SomebodyElsePage(
            entry,
            names.get(entry.receiver_household_id, ""),
            could_post(tx, actor.circle_id, entry),
        )


def could_post(tx: Tx, circle_id: int, entry: ParcelRow) -> tuple[tuple[int, str], ...]:
    """Give the households of the sender's country, but for both ends, the nearest to the sender first."""
    here = PLACES.get(tx, circle_id, entry.sender_place_id)
    ends = {entry.sender_household_id, entry.receiver_household_id}
    left = {one.id for one in HOUSEHOLDS.all(tx, circle_id) if one.left_on is not None}
    labels = household_labels(tx, circle_id)
    near: dict[int, float] = {}
    for place in PLACES.all(tx, circle_id):
        key = place.household_id
        if place.country != here.country or key in ends | left or key not in labels:
            continue
        far = distance_km((here.latitude, here.longitude), (place.latitude, place.longitude))
        near[key] = min(far, near.get(key, far))
    return tuple((key, labels[key]) for key in sorted(near, key=lambda one: (near[one], one)))


def ask_to_post(actor: Actor, parcel_id: int, household_id: int, now: datetime) -> None:
    """Ask another household to post a parcel; until it says yes the sender posts it.

    Raises
    ------
    AlreadyOnItsWayError
        When it has gone.
    CannotPostItError
        When that household is one of its ends, has left, or grows in another country.
    """
    with actor.books.writing() as tx:
        entry = _open_one(tx, actor, parcel_id, Permission.HAND_OVER, now)
        if household_id not in dict(could_post(tx, actor.circle_id, entry)):
            raise CannotPostItError("Choose somebody from the list.", "household_id")
        _take_from_poster(tx, actor, entry, now)
        PARCELS.change(
            tx,
            actor.circle_id,
            parcel_id,
            asked_to_post_id=household_id,
            poster_household_id=None,
            changed_at=now,
        )
        note(tx, actor, "asked somebody else to post a parcel", entry.code, now)
        rewrite(tx, actor, parcel_id, now)
        to = Addressed(entry, household_id, entry.sender_household_id)
        key = f"take_over:{parcel_id}:{household_id}:{now.isoformat()}"
        write_to(tx, actor, to, key, words.can_you_post, now)
        ask(tx, actor, "plan", None, now)


def take_over(actor: Actor, parcel_id: int, now: datetime) -> None:
    """Take a parcel over; it is then weighed by the days of whoever took it, who sees where it goes.

    Raises
    ------
    AlreadyOnItsWayError
        When it has gone.
    NotAskedError
        When nobody is asked any more.
    """
    with actor.books.writing() as tx:
        entry = _open_one(tx, actor, parcel_id, Permission.TAKE_OVER, now)
        if entry.asked_to_post_id is None:
            raise NotAskedError("Nobody is asked to post it any more.")
        PARCELS.change(
            tx,
            actor.circle_id,
            parcel_id,
            asked_to_post_id=None,
            poster_household_id=entry.asked_to_post_id,
            changed_at=now,
        )
        note(tx, actor, "took over the posting of a parcel", entry.code, now)
        rewrite(tx, actor, parcel_id, now)
        to = Addressed(entry, entry.sender_household_id, entry.asked_to_post_id)
        key = f"taken_over:{parcel_id}:{now.isoformat()}"
        write_to(tx, actor, to, key, words.taken_over, now)
        ask(tx, actor, "plan", None, now)


def leave_to_sender(actor: Actor, parcel_id: int, now: datetime) -> None:
    """Leave the posting to the sender: whoever was asked cannot, or the sender can again.

    Raises
    ------
    AlreadyOnItsWayError
        When it has gone.
    NotAskedError
        When nobody else was to post it.
    """
    with actor.books.writing() as tx:
        entry = _open_one(tx, actor, parcel_id, Permission.LEAVE_TO_SENDER, now)
        other = entry.poster_household_id or entry.asked_to_post_id
        if other is None:
            raise NotAskedError("Nobody else is to post it.")
        PARCELS.change(
            tx,
            actor.circle_id,
            parcel_id,
            asked_to_post_id=None,
            poster_household_id=None,
            changed_at=now,
        )
        note(tx, actor, "left the posting of a parcel to its sender", entry.code, now)
        rewrite(tx, actor, parcel_id, now)
        own = actor.household_id
        key = f"yours_to_post:{parcel_id}:{now.isoformat()}"
        if own != entry.sender_household_id:
            to = Addressed(entry, entry.sender_household_id, other)
            write_to(tx, actor, to, key, words.cannot, now)
        if own != other and entry.poster_household_id is not None:
            to = Addressed(entry, other, entry.sender_household_id)
            write_to(tx, actor, to, key, words.no_longer_yours, now)
        ask(tx, actor, "plan", None, now)


def _take_from_poster(tx: Tx, actor: Actor, entry: ParcelRow, now: datetime) -> None:
    """Tell whoever had taken a parcel over that somebody else is asked now."""
    if entry.poster_household_id is not None:
        to = Addressed(entry, entry.poster_household_id, entry.sender_household_id)
        key = f"no_longer_yours:{entry.id}:{now.isoformat()}"
        write_to(tx, actor, to, key, words.no_longer_yours, now)


def _open_one(
    tx: Tx, actor: Actor, parcel_id: int, permission: Permission, now: datetime
) -> ParcelRow:
    entry = PARCELS.get(tx, actor.circle_id, parcel_id)
    actor.must(permission, subject_of(tx, actor, entry, now))
    if entry.state not in OPEN:
        raise AlreadyOnItsWayError("It has gone already.")
    return entry
