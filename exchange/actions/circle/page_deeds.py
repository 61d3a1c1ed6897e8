"""Who did what: the organiser sees all of it, a member what they did and what was done for them."""

from dataclasses import dataclass
from datetime import datetime
from zoneinfo import ZoneInfo

from exchange.actions.kernel.actor import Actor, circle_of
from exchange.domain.permissions import Permission
from exchange.records import DEEDS, MEMBERS

MOST_SHOWN = 300


@dataclass(frozen=True, slots=True)
class DeedShown:
    """One line of who did what; `done_at` stands in the circle's zone.

    Attributes
    ----------
    by : full name, empty for what happened automatically
    for_whom : the member it was entered for, or empty
    """

    by: str
    for_whom: str
    act: str
    what: str
    done_at: datetime


def who_did_what(actor: Actor, *, everybody: bool = False) -> tuple[DeedShown, ...]:
    """Give the latest deeds, newest first.

    Parameters
    ----------
    everybody : all of the circle's, which only the organiser sees
    """
    actor.must(Permission.RUN_CIRCLE if everybody else Permission.SEE_CIRCLE)
    oneself = actor.acting_for or actor.member_id
    with actor.books.reading() as tx:
        zone = ZoneInfo(circle_of(actor, tx).zone)
        names = {one.id: one.full_name for one in MEMBERS.all(tx, actor.circle_id)}
        deeds = DEEDS.all(tx, actor.circle_id)
    shown = [one for one in deeds if everybody or oneself in (one.for_member_id, one.actor_id)]
    return tuple(
        DeedShown(
            names.get(one.actor_id or 0, ""),
            names.get(one.for_member_id or 0, ""),
            one.act,
            one.what,
            one.done_at.astimezone(zone),
        )
        for one in shown[::-1][:MOST_SHOWN]
    )
