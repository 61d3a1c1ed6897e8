"""Members whose lines the organiser may put into one box, each led by a name."""

from collections import Counter
from collections.abc import Mapping

from exchange.actions.kernel.actor import Actor
from exchange.domain.permissions import Permission
from exchange.records import MEMBERS, Tx


def leaders_of(tx: Tx, actor: Actor) -> dict[str, tuple[int, str]]:
    """Give the names that may lead lines, each with its member: whole names, and first names borne once.

    Only the organiser, acting for nobody, enters lines of others; the organiser's own name leads none.
    """
    if not actor.organiser or actor.acting_for is not None:
        return {}
    members = [
        one for one in MEMBERS.all(tx, actor.circle_id, left_at=None) if one.id != actor.member_id
    ]
    borne = Counter(one.first_name for one in members)
    whole = {one.full_name: (one.id, one.full_name) for one in members}
    first = {
        one.first_name: (one.id, one.full_name) for one in members if borne[one.first_name] == 1
    }
    return first | whole


def members_to_choose(led: Mapping[str, tuple[int, str]]) -> tuple[tuple[int, str], ...]:
    """Give the members of these names, in order of name."""
    return tuple(sorted(set(led.values()), key=lambda one: one[1]))


def acting_in(tx: Tx, actor: Actor, member_id: int | None) -> Actor:
    """Give the actor acting for a member, or for themselves."""
    if member_id is None:
        return actor
    actor.must(Permission.ACT_FOR)
    member = MEMBERS.get(tx, actor.circle_id, member_id)
    return actor.for_member(member.id, member.household_id)


def acting_for_household(tx: Tx, actor: Actor, household_id: int) -> Actor:
    """Give the actor acting for a household of the circle, where the organiser takes back what was entered for it."""
    if not actor.organiser or household_id == actor.household_id:
        return actor
    members = MEMBERS.all(tx, actor.circle_id, household_id=household_id)
    return acting_in(tx, actor, members[0].id) if members else actor
