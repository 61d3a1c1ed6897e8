"""What the page of papers shows: the parcels a household has still to post."""

from dataclasses import dataclass
from datetime import datetime

from exchange.actions.kernel.actor import Actor, circle_of, today_in
from exchange.actions.posting.diary import first_names
from exchange.actions.posting.page_parcels import ParcelLine, parcel_lines
from exchange.actions.posting.papers import TO_POST
from exchange.domain.permissions import Permission, may
from exchange.records import MEMBERS, PARCELS


@dataclass(frozen=True, slots=True)
class PapersPage:
    """A household's parcels that can be printed.

    Attributes
    ----------
    who : whose they are, empty for one's own
    by_paper : for the organiser, households without mail that have something to post, as (id, names)
    """

    lines: tuple[ParcelLine, ...]
    who: str
    by_paper: tuple[tuple[int, str], ...]


def papers_page(actor: Actor, now: datetime, household_id: int | None = None) -> PapersPage:
    """Show what a household can print: one's own, or for the organiser anybody's."""
    own_id = actor.own_household()
    wanted = own_id if household_id is None else household_id
    runs_circle = may(actor.person, Permission.RUN_CIRCLE)
    if wanted != own_id:
        actor.must(Permission.RUN_CIRCLE)
    with actor.books.reading() as tx:
        today = today_in(circle_of(actor, tx), now)
        names = first_names(tx, actor.circle_id)
        going = [
            one
            for one in PARCELS.all(tx, actor.circle_id, state=TO_POST)
            if one.posting_day is not None
        ]
        reached = {
            one.household_id
            for one in MEMBERS.all(tx, actor.circle_id, left_at=None)
            if one.email is not None
        }
        senders = {one.posted_by for one in going} - reached if runs_circle else set()
        own = [one for one in going if one.posted_by == wanted]
        return PapersPage(
            parcel_lines(tx, actor.circle_id, own, today),
            names.get(wanted, "") if wanted != own_id else "",
            tuple(sorted(((one, names.get(one, "")) for one in senders), key=lambda one: one[1])),
        )
