"""Sign-in links for the demo: the organiser and two members."""

from exchange.actions.demo.build import Demo
from exchange.actions.ways_in import hand_sign_in
from exchange.records import MEMBERS
from exchange.words.phrase import _

MEMBERS_SHOWN = 2


def demo_links(demo: Demo) -> tuple[tuple[str, str], ...]:
    """Give who signs in and the link for it: the organiser first, then two members."""
    organiser, now = demo.settled.organiser, demo.data.now
    with organiser.books.reading() as tx:
        people = [one for one in MEMBERS.all(tx, organiser.circle_id) if one.account_id]
    first = [one for one in people if one.organiser][:1]
    chosen = first + [one for one in people if not one.organiser][:MEMBERS_SHOWN]
    return tuple(
        (
            f"{one.full_name}, {_('organiser')}" if one.organiser else one.full_name,
            hand_sign_in(organiser, one.id, now),
        )
        for one in chosen
    )
