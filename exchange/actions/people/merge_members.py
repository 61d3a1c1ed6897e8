"""A member entered twice: asked about, made one, and undone within a month."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import UTC, datetime

from exchange.actions.kernel.actor import Actor, circle_of, note, today_in
from exchange.actions.kernel.mergers import (
    MergeRefusedError,
    MergerLine,
    can_be_undone,
    record_merger,
    take_merger_back,
)
from exchange.actions.kernel.tasks import ask
from exchange.actions.people.belongings import belongings_of, in_between, lives_alone
from exchange.domain.circle.merge_members import Entered, merge_members
from exchange.domain.circle.moves import MergerKind, Move, Plain, counts
from exchange.domain.permissions import Permission
from exchange.records import MEMBERS, MERGERS, NotHereError, Tx
from exchange.records.rows.people import MemberRow

SAID = ("surname", "email", "telephone", "telephone_allowed", "helper")
"""What is said of a person beside the first name."""


@dataclass(frozen=True, slots=True)
class MergeMembersPage:
    """What merging a member into another would move.

    Attributes
    ----------
    others : the members it may be merged into
    kept : the one chosen, None while none is
    moving : rows that would move [noun -> rows]
    doubled : claims withdrawn because both households wait for the variety [claims]
    stays : first names of those who still live in the household merged; its plants stay with them
    in_the_way : what keeps the two apart, empty where nothing does
    both_sign_in : whether both have a sign-in of their own, of which the merged one's ends
    mergers : members merged into this one before, as long as that can be undone
    """

    merged: MemberRow
    others: tuple[MemberRow, ...]
    kept: MemberRow | None
    moving: Mapping[str, int]
    doubled: int
    stays: tuple[str, ...]
    in_the_way: str
    both_sign_in: bool
    mergers: tuple[MergerLine, ...]


def merge_members_page(
    actor: Actor, merged_id: int, kept_id: int | None, now: datetime
) -> MergeMembersPage:
    """Show what would move if a member were merged into another."""
    actor.must(Permission.RUN_CIRCLE)
    with actor.books.reading() as tx:
        here = MEMBERS.all(tx, actor.circle_id, left_at=None)
        merged = next((one for one in here if one.id == merged_id), None)
        if merged is None:
            raise NotHereError(f"there is no member {merged_id} in this circle")
        kept = next((one for one in here if one.id == kept_id != merged_id), None)
        moves = _moves(tx, actor, kept, merged, now) if kept else ()
        apart = kept is not None and kept.household_id != merged.household_id
        stays = [
            one.first_name
            for one in here
            if apart and one.household_id == merged.household_id and one.id != merged_id
        ]
        return MergeMembersPage(
            merged,
            tuple(one for one in here if one.id != merged_id),
            kept,
            counts(moves),
            sum(one.noun == "claim" and one.column == "withdrawn_at" for one in moves),
            tuple(stays),
            _in_the_way(tx, actor, kept, merged) if kept else "",
            bool(kept and kept.account_id and merged.account_id),
            _mergers(tx, actor, merged_id, now),
        )


def merge_into_member(actor: Actor, merged_id: int, kept_id: int, now: datetime) -> int:
    """Merge a member into another: whatever is the one's is the other's from then on.

    Raises
    ------
    MergeRefusedError
        When they are one, one of them has left, or plants are between the two.
    """
    actor.must(Permission.RUN_CIRCLE)
    with actor.books.writing() as tx:
        merged = MEMBERS.get(tx, actor.circle_id, merged_id)
        kept = MEMBERS.get(tx, actor.circle_id, kept_id)
        refused = _in_the_way(tx, actor, kept, merged)
        if refused:
            raise MergeRefusedError(refused, "into")
        moves = _moves(tx, actor, kept, merged, now)
        merger_id = record_merger(tx, actor, (MergerKind.MEMBER, kept.id, merged.id), moves, now)
        note(tx, actor, "made two members one", f"{merged.full_name}: {kept.full_name}", now)
        ask(tx, actor, "plan", None, now)
    return merger_id


def unmerge_member(actor: Actor, merger_id: int, now: datetime) -> int:
    """Take a merger back, and give the member that was merged.

    Raises
    ------
    UndoRefusedError
        When it is too late for it.
    """
    actor.must(Permission.RUN_CIRCLE)
    with actor.books.writing() as tx:
        merger = MERGERS.get(tx, actor.circle_id, merger_id)
        if merger.kind is not MergerKind.MEMBER:
            raise NotHereError(f"merger {merger_id} is not of members")
        take_merger_back(tx, actor, merger, now)
        name = MEMBERS.get(tx, actor.circle_id, merger.merged_id).full_name
        note(tx, actor, "made one member two again", name, now)
        ask(tx, actor, "plan", None, now)
    return merger.merged_id


def _in_the_way(tx: Tx, actor: Actor, kept: MemberRow, merged: MemberRow) -> str:
    """Say in a sentence what keeps two members from being made one; empty where nothing does."""
    if kept.id == merged.id:
        return "They are one already."
    if kept.left_at is not None or merged.left_at is not None:
        return "One of the two has left the circle."
    if merged.id == actor.member_id:
        return "That is yourself: merge the other one into you."
    if not lives_alone(tx, actor.circle_id, kept, merged):
        return ""
    return in_between(tx, actor.circle_id, kept.household_id, merged.household_id)


def _moves(
    tx: Tx, actor: Actor, kept: MemberRow, merged: MemberRow, now: datetime
) -> tuple[Move, ...]:
    alone = lives_alone(tx, actor.circle_id, kept, merged)
    left_on = today_in(circle_of(actor, tx), now).isoformat()
    ends: dict[str, Plain] | None = (
        {"left_on": left_on, "merged_into": kept.household_id} if alone else None
    )
    return merge_members(
        _entered(kept),
        _entered(merged),
        belongings_of(tx, actor.circle_id, kept, merged),
        now.astimezone(UTC).isoformat(),
        ends,
    )


def _entered(member: MemberRow) -> Entered:
    return Entered(
        member.id,
        member.household_id,
        member.account_id,
        member.organiser,
        {column: getattr(member, column) for column in SAID},
    )


def _mergers(tx: Tx, actor: Actor, member_id: int, now: datetime) -> tuple[MergerLine, ...]:
    circle = circle_of(actor, tx)
    return tuple(
        MergerLine(
            one.id,
            MEMBERS.get(tx, actor.circle_id, one.merged_id).full_name,
            today_in(circle, one.done_at),
        )
        for one in can_be_undone(tx, actor.circle_id, MergerKind.MEMBER, member_id, now)
    )
