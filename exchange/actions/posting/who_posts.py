"""Whether another household posts a parcel for its sender, as its page tells it."""

from dataclasses import dataclass

from exchange.actions.kernel.actor import Actor
from exchange.actions.posting.diary import first_names
from exchange.domain.permissions import Permission, Subject, may
from exchange.records import Tx
from exchange.records.rows.posting import ParcelRow


@dataclass(frozen=True, slots=True)
class WhoPosts:
    """Whether another household posts it for its sender, and what the reader may do about that.

    Attributes
    ----------
    poster, asked : names of the household that took it over, and of one that is asked; else empty
    is_reader : whether that household is the reader's
    may_hand_over, may_take_over, may_leave : ask another, take it over, leave it to its sender
    """

    poster: str
    asked: str
    is_reader: bool
    may_hand_over: bool
    may_take_over: bool
    may_leave: bool


def who_posts(tx: Tx, actor: Actor, entry: ParcelRow, subject: Subject) -> WhoPosts:
    """Give who posts a parcel, and what the reader may do about that."""
    names, person = first_names(tx, actor.circle_id), actor.person
    poster, asked = entry.poster_household_id, entry.asked_to_post_id
    return WhoPosts(
        names.get(poster or 0, ""),
        names.get(asked or 0, ""),
        actor.household_id in (poster, asked),
        may(person, Permission.HAND_OVER, subject),
        asked is not None and may(person, Permission.TAKE_OVER, subject),
        may(person, Permission.LEAVE_TO_SENDER, subject),
    )
