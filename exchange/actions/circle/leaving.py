"""Leaving the circle: what only they hold is asked about first, and what was promised is ended or given to others."""

from dataclasses import dataclass
from datetime import datetime

from exchange.actions.circle.dealings import end_dealings, on_their_way
from exchange.actions.circle.erasing import record_erased
from exchange.actions.kernel.actor import Actor, circle_of, note, today_in
from exchange.actions.kernel.links import Purpose
from exchange.actions.kernel.refusals import RefusedError
from exchange.actions.people.household_members import members_of
from exchange.actions.people.members import keep_one_organiser, member_here
from exchange.domain.growing.variety import Variety
from exchange.domain.permissions import Permission
from exchange.records import BATCHES, HOUSEHOLDS, MEMBERS, VARIETIES, Tx, links
from exchange.records.rows.people import MemberRow
from exchange.words.circle import leaving as words

FIELD = "known"


class OnlyHolderLeavesError(RefusedError):
    """The circle would lose varieties, and nobody has said that this is known."""


@dataclass(frozen=True, slots=True)
class Leaving:
    """What somebody who leaves is asked, and told.

    Attributes
    ----------
    alone : nobody else is in the household, whose dealings end too
    only_here : varieties the circle knows of nowhere else
    on_their_way : parcels that were posted and not heard of [parcels]
    """

    member: MemberRow
    alone: bool
    only_here: tuple[Variety, ...]
    on_their_way: int


@dataclass(frozen=True, slots=True)
class Farewell:
    """How somebody leaves.

    Attributes
    ----------
    known : it is known that the circle loses what only they hold
    erase : what is known of them is erased at once
    """

    known: bool = False
    erase: bool = False


def leaving_page(actor: Actor, member_id: int) -> Leaving:
    """Show what a member's leaving would end; for themselves or the organiser."""
    with actor.books.reading() as tx:
        member = _may_go(tx, actor, member_id)
        alone = _is_alone(tx, actor, member)
        here = only_here(tx, actor, member.household_id) if alone else ()
        return Leaving(member, alone, here, on_their_way(tx, actor, member.household_id))


def leave(actor: Actor, member_id: int, now: datetime, how: Farewell = Farewell()) -> None:
    """Let a member leave, by themselves or by the organiser; their links stop working.

    With the last of a household its claims and spares leave, and what was promised and has not gone
    is ended: the reserve is asked instead.

    Raises
    ------
    OnlyHolderLeavesError
        When they alone hold a variety, and it was not said that this is known.
    LastOrganiserError
        When the circle would be left without an organiser.
    """
    with actor.books.writing() as tx:
        member = _may_go(tx, actor, member_id)
        alone = _is_alone(tx, actor, member)
        here = only_here(tx, actor, member.household_id) if alone else ()
        if here and not how.known:
            raise OnlyHolderLeavesError(words.only_held([one.name for one in here]), FIELD)
        if member.organiser:
            keep_one_organiser(tx, actor, member_id)
        record_left(tx, actor, member, now)
        if alone:
            end_dealings(tx, actor, member.household_id, now)
            day = today_in(circle_of(actor, tx), now)
            HOUSEHOLDS.change(tx, actor.circle_id, member.household_id, left_on=day)
        note(tx, actor, "left the circle", member.full_name, now)
        if how.erase:
            record_erased(tx, actor, member_id, now)


def record_left(tx: Tx, actor: Actor, member: MemberRow, now: datetime) -> None:
    """Keep that somebody has left: their links end, and nobody signs in as them here."""
    for purpose in Purpose:
        links.revoke(tx, member.id, purpose, now)
    MEMBERS.change(
        tx, actor.circle_id, member.id, left_at=now, account_id=None, organiser=False, helper=""
    )


def only_here(tx: Tx, actor: Actor, household_id: int) -> tuple[Variety, ...]:
    """Give the varieties of which a household alone has living plants."""
    living: dict[int, set[int]] = {}
    for one in BATCHES.all(tx, actor.circle_id):
        if one.plants:
            living.setdefault(one.variety_id, set()).add(one.household_id)
    alone = {variety_id for variety_id, homes in living.items() if homes == {household_id}}
    return tuple(VARIETIES.all(tx, actor.circle_id, id=alone)) if alone else ()


def _may_go(tx: Tx, actor: Actor, member_id: int) -> MemberRow:
    member = member_here(tx, actor, member_id)
    if member.id != actor.member_id:
        actor.must(Permission.RUN_CIRCLE)
    return member


def _is_alone(tx: Tx, actor: Actor, member: MemberRow) -> bool:
    return len(members_of(tx, actor.circle_id, member.household_id)) == 1
