"""What the pages show on which a parcel is moved, or posted against the plan's advice."""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date, datetime

from exchange.actions.kernel.actor import Actor
from exchange.actions.kernel.refusals import RefusedError
from exchange.actions.posting.other_day import (
    Change,
    OverLimitError,
    anyway_of,
    change_of,
    day_version,
)
from exchange.actions.posting.page_parcel import ParcelPage, page_of
from exchange.actions.posting.parcel_facts import subject_of
from exchange.domain.permissions import Permission
from exchange.records import Tx
from exchange.records.rows.posting import ParcelRow


@dataclass(frozen=True, slots=True)
class MovingPage:
    """A parcel, and what moving it to a day would change.

    Attributes
    ----------
    change : None while no day is chosen, and where it cannot go on that day
    refused : why it cannot go then
    version : of the day that stands
    """

    page: ParcelPage
    change: Change | None
    refused: RefusedError | None
    version: str

    @property
    def may_go_anyway(self) -> bool:
        """Whether the limit alone refuses the day, so that it can be posted then by who knows it."""
        return isinstance(self.refused, OverLimitError)


def moving_page(
    actor: Actor, parcel_id: int, day: date | None, now: datetime, *, fresh: bool
) -> MovingPage:
    """Show what moving a parcel to a day would change.

    Parameters
    ----------
    day : None where none was chosen yet
    """
    return _changed(actor, parcel_id, day, now, change_of, fresh=fresh)


def anyway_page(
    actor: Actor, parcel_id: int, day: date | None, now: datetime, *, fresh: bool
) -> MovingPage:
    """Show what posting a parcel on a day against the plan's advice would change; see `moving_page`."""
    return _changed(actor, parcel_id, day, now, anyway_of, fresh=fresh)


def _changed(
    actor: Actor,
    parcel_id: int,
    day: date | None,
    now: datetime,
    changed: Callable[[Tx, Actor, ParcelRow, date], Change],
    *,
    fresh: bool,
) -> MovingPage:
    with actor.books.reading() as tx:
        page = page_of(tx, actor, parcel_id, now, fresh=fresh)
        actor.must(Permission.SAY_POSTED, subject_of(tx, actor, page.entry, now))
        change, refused = None, None
        if day is not None:
            try:
                change = changed(tx, actor, page.entry, day)
            except RefusedError as error:
                refused = error
        return MovingPage(page, change, refused, day_version(page.entry))
