"""The organiser acting for a member; each act is written down and shown to that member."""

from datetime import datetime

from exchange.actions.kernel.actor import Actor, note
from exchange.domain.permissions import Permission
from exchange.records import MEMBERS


def begin_acting(actor: Actor, member_id: int, now: datetime) -> Actor:
    """Begin to act for a member of the circle."""
    actor.must(Permission.ACT_FOR)
    with actor.books.writing() as tx:
        member = MEMBERS.get(tx, actor.circle_id, member_id)
        acting = actor.for_member(member.id, member.household_id)
        note(tx, acting, "began to act for", member.full_name, now)
    return acting
