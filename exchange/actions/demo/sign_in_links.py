"""Sign-in links for the demo: the organiser and two members."""

from datetime import datetime

from exchange.actions.demo.build import Demo
from exchange.actions.kernel.actor import circle_of, now_of
from exchange.actions.people.sign_in import hand_sign_in
from exchange.records import MEMBERS

MEMBERS_SHOWN = 2


def demo_links(demo: Demo, machine_now: datetime) -> tuple[tuple[str, str], ...]:
    """Give who signs in and the link for it: the organiser first, then two members.

    Parameters
    ----------
    machine_now : by the clock the demo is served by, whose time of day its day and the links follow
    """
    organiser = demo.settled.organiser
    with organiser.books.reading() as tx:
        now = now_of(organiser.house, circle_of(organiser, tx), machine_now)
        people = [one for one in MEMBERS.all(tx, organiser.circle_id) if one.account_id]
    first = [one for one in people if one.organiser][:1]
    chosen = first + [one for one in people if not one.organiser][:MEMBERS_SHOWN]
    return tuple(
        (
            f"{one.full_name}, organiser" if one.organiser else one.full_name,
            hand_sign_in(organiser, one.id, now),
        )
        for one in chosen
    )
