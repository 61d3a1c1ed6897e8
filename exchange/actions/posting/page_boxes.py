"""What the page shows on which a parcel is put into two, or in with another."""

from dataclasses import dataclass
from datetime import datetime

from exchange.actions.kernel.actor import Actor
from exchange.actions.posting.boxes import InWithIt, with_the_same_ends
from exchange.actions.posting.page_parcel import ParcelPage, page_of
from exchange.actions.posting.parcel_facts import subject_of
from exchange.domain.permissions import Permission


@dataclass(frozen=True, slots=True)
class BoxesPage:
    """A parcel, and the others between the same two places."""

    page: ParcelPage
    others: tuple[InWithIt, ...]


def boxes_page(actor: Actor, parcel_id: int, now: datetime) -> BoxesPage:
    """Show how a parcel could be put into two, or another in with it."""
    with actor.books.reading() as tx:
        page = page_of(tx, actor, parcel_id, now, fresh=False)
        actor.must(Permission.SAY_POSTED, subject_of(tx, actor, page.entry, now))
        others = with_the_same_ends(tx, actor.circle_id, page.entry) if page.is_open else ()
        return BoxesPage(page, others)
