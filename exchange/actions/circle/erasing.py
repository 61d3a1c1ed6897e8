"""Erasing what is known of somebody who has left; that it was done is kept beside the backups too."""

from dataclasses import dataclass
from datetime import datetime

from exchange.actions.circle.dealings import on_their_way
from exchange.actions.circle.erasures import keep_erasures
from exchange.actions.kernel.actor import Actor, note
from exchange.actions.kernel.refusals import RefusedError
from exchange.domain.permissions import Permission
from exchange.records import MEMBERS, Tx
from exchange.records.erase import erase as erase_rows
from exchange.records.rows.people import MemberRow
from exchange.words.circle import leaving as words


class ErasureRefusedError(RefusedError):
    """Nothing is erased; the sentence says why not yet."""


@dataclass(frozen=True, slots=True)
class Former:
    """Somebody who has left and is still known by name."""

    member: MemberRow
    on_their_way: int


def former_members(actor: Actor) -> tuple[Former, ...]:
    """Give those who have left and were not erased, the last to leave first.

    Who was merged into another has not left; they are erased with the other.
    """
    actor.must(Permission.RUN_CIRCLE)
    with actor.books.reading() as tx:
        gone = [
            Former(one, on_their_way(tx, actor, one.household_id))
            for one in MEMBERS.all(tx, actor.circle_id)
            if one.left_at is not None and one.erased_at is None and one.merged_into is None
        ]
    return tuple(sorted(gone, key=lambda one: (one.member.left_at, one.member.id), reverse=True))


def former_member(actor: Actor, member_id: int) -> Former:
    """Give one person who has left.

    Raises
    ------
    ErasureRefusedError
        When they are still here, or nothing is known of them any more.
    """
    actor.must(Permission.RUN_CIRCLE)
    with actor.books.reading() as tx:
        member = _gone(tx, actor, member_id)
        return Former(member, on_their_way(tx, actor, member.household_id))


def erase(actor: Actor, member_id: int, now: datetime) -> None:
    """Erase what is known of a member who has left; it cannot be undone.

    Raises
    ------
    ErasureRefusedError
        When they are still here, or a parcel of theirs is still on its way.
    """
    actor.must(Permission.RUN_CIRCLE)
    with actor.books.writing() as tx:
        record_erased(tx, actor, member_id, now)


def record_erased(tx: Tx, actor: Actor, member_id: int, now: datetime) -> None:
    """Erase a member who has left, within an act; what was given and received still counts."""
    member = _gone(tx, actor, member_id)
    coming = on_their_way(tx, actor, member.household_id)
    if coming:
        raise ErasureRefusedError(words.on_their_way(coming))
    erase_rows(tx, actor.circle_id, member_id, now)
    note(tx, actor, "erased a former member", f"member {member_id}", now)
    keep_erasures(tx, actor.house)


def _gone(tx: Tx, actor: Actor, member_id: int) -> MemberRow:
    member = MEMBERS.get(tx, actor.circle_id, member_id)
    if member.left_at is None:
        raise ErasureRefusedError(f"{member.full_name} is still in the circle.")
    if member.erased_at is not None:
        raise ErasureRefusedError("Nothing is known of them any more.")
    return member
