"""Listing spares one by one, and changing them."""

from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta
from typing import TypedDict

from exchange.actions.growing.batches import first_place, own_place
from exchange.actions.growing.variety_meant import TypedName, variety_meant
from exchange.actions.kernel.actor import Actor, circle_of, note, today_in
from exchange.actions.kernel.edits import must_be_as_opened, version_of
from exchange.actions.kernel.refusals import RefusedError
from exchange.actions.sharing.last_plants import Listing, ask_about_last
from exchange.actions.sharing.set_aside import SetAsideRefusedError, set_aside, take_back
from exchange.actions.sharing.spare_batch import Offered, batch_of, batch_of_other
from exchange.domain.growing.batch import Material, Raised
from exchange.domain.growing.names import one_line
from exchange.domain.growing.variety import Variety
from exchange.domain.permissions import Permission, Subject
from exchange.domain.sharing.box.entry import MOST_PLANTS_A_LINE
from exchange.records import MEMBERS, SPARES, Tx
from exchange.records.rows.growing import SpareRow

LONGEST_AHEAD = timedelta(days=366)
LONGEST_REMARK = 500
EDITED = (
    "variety_id",
    "material",
    "raised",
    "count",
    "ready_from",
    "send_by",
    "set_aside_for",
    "roots_seen",
    "health_by",
    "health_on",
    "note",
)
"""What the form of a spare edits: the columns its version is made of."""


class WindowRefusedError(RefusedError):
    """The days in which the spare may be posted make no sense."""


class SpareCountRefusedError(RefusedError):
    """The number of plants cannot be right."""


class SeedRefusedError(RefusedError):
    """Seed holds no named variety."""


class HealthDayRefusedError(RefusedError):
    """The plants cannot have been looked over on that day."""


class SparePromisedError(RefusedError):
    """Plants of the spare are promised already."""


@dataclass(frozen=True, slots=True)
class NewSpare:
    """A spare somebody lists.

    Attributes
    ----------
    variety : the variety, or its name as it was typed
    count : plants [plants]
    may_go : said of a last plant, which is asked about otherwise
    place_id : None for the household's first place
    """

    variety: int | TypedName
    material: Material
    raised: Raised
    count: int
    ready_from: date
    send_by: date
    place_id: int | None = None
    set_aside_for: int | None = None
    roots_seen: bool = False
    health_by: str = ""
    health_on: date | None = None
    note: str = ""
    may_go: bool = False


def list_spare(actor: Actor, new: NewSpare, now: datetime) -> int:
    """List a spare; the batch it comes from is made silently."""
    actor.must(Permission.KEEP_OWN, Subject(owner=actor.own_household()))
    with actor.books.writing() as tx:
        variety = variety_meant(tx, actor, new.variety, now)
        spare_id = add_spare(tx, actor, variety, new, now)
        note(tx, actor, "listed a spare", f"{new.count} {variety.name}", now)
    return spare_id


def add_spare(tx: Tx, actor: Actor, variety: Variety, new: NewSpare, now: datetime) -> int:
    """Keep a spare of a variety, within an act."""
    check_spare(new, today_in(circle_of(actor, tx), now))
    _check_household(tx, actor, new)
    holder = actor.own_household()
    ask_about_last(tx, actor, Listing(variety, new.material, new.count, holder, new.may_go), now)
    place_id = own_place(tx, actor, new.place_id) if new.place_id else first_place(tx, actor)
    batch_id = batch_of(tx, actor, variety.id, offered_as(new), place_id, now)
    row = spare_row(actor, variety, new, (place_id, batch_id), now)
    (spare_id,) = SPARES.add_all(tx, actor.circle_id, [row])
    if new.set_aside_for is not None:
        set_aside(tx, actor, spare_id, new.set_aside_for, now)
    return spare_id


def spare_row(
    actor: Actor, variety: Variety, new: NewSpare, stands: tuple[int, int], now: datetime
) -> SpareRow:
    """Give a spare as it is kept.

    Parameters
    ----------
    stands : its place and its batch
    """
    place_id, batch_id = stands
    return SpareRow(
        0,
        household_id=actor.own_household(),
        place_id=place_id,
        variety_id=variety.id,
        batch_id=batch_id,
        held=variety.protected,
        listed_at=now,
        entered_by=actor.member_id,
        **_said(new),
    )


def change_spare(
    actor: Actor, spare_id: int, new: NewSpare, now: datetime, *, opened: str | None = None
) -> None:
    """Change what a spare says; never to fewer plants than are promised in a share-out."""
    with actor.books.writing() as tx:
        spare = own_spare(tx, actor, spare_id)
        must_be_as_opened(opened, version_of(spare, EDITED))
        variety = variety_meant(tx, actor, new.variety, now)
        check_spare(new, today_in(circle_of(actor, tx), now))
        _check_household(tx, actor, new)
        holder = spare.household_id
        listing = Listing(variety, new.material, new.count, holder, new.may_go, spare)
        ask_about_last(tx, actor, listing, now)
        if spare.set_aside_for is not None:
            take_back(tx, actor, spare, now)
            spare = SPARES.get(tx, actor.circle_id, spare_id)
        _check_promised(spare, variety, new)
        is_other = variety.id != spare.variety_id
        SPARES.change(
            tx,
            actor.circle_id,
            spare_id,
            variety_id=variety.id,
            batch_id=batch_of_other(
                tx, _holder(actor, spare), spare, variety.id, offered_as(new), now
            )
            if is_other
            else spare.batch_id,
            held=variety.protected if is_other else spare.held,
            set_aside_for=None,
            **_said(new),
        )
        if new.set_aside_for is not None:
            set_aside(tx, actor, spare_id, new.set_aside_for, now)
        note(tx, actor, "changed a spare", f"{new.count} {variety.name}", now)


def own_spare(tx: Tx, actor: Actor, spare_id: int) -> SpareRow:
    """Give the spare if the actor may change it."""
    spare = SPARES.get(tx, actor.circle_id, spare_id)
    actor.must(Permission.KEEP_OWN, Subject(owner=spare.household_id))
    return spare


def _holder(actor: Actor, spare: SpareRow) -> Actor:
    """Give the actor as one who acts upon the things of the spare's household."""
    return replace(actor, household_id=spare.household_id)


class _SpareSaid(TypedDict):
    material: Material
    raised: Raised
    count: int
    ready_from: date
    send_by: date
    roots_seen: bool
    health_by: str
    health_on: date | None
    note: str


def _said(new: NewSpare) -> _SpareSaid:
    """Give what is said of a spare beside its variety, place and member."""
    return {
        "material": new.material,
        "raised": new.raised,
        "count": new.count,
        "ready_from": new.ready_from,
        "send_by": new.send_by,
        "roots_seen": new.roots_seen,
        "health_by": one_line(new.health_by)[:LONGEST_REMARK],
        "health_on": new.health_on,
        "note": one_line(new.note)[:LONGEST_REMARK],
    }


def offered_as(new: NewSpare) -> Offered:
    """Give what a spare offers."""
    return Offered(new.material, new.raised, new.count)


def _check_household(tx: Tx, actor: Actor, new: NewSpare) -> None:
    """Refuse to set plants aside for anybody who is not, or no longer, in the circle."""
    wanted = new.set_aside_for
    if wanted is not None and not MEMBERS.all(
        tx, actor.circle_id, household_id=wanted, left_at=None
    ):
        raise SetAsideRefusedError("Choose one of these.", "set_aside_for")


def _check_promised(spare: SpareRow, variety: Variety, new: NewSpare) -> None:
    if new.count < spare.allocated:
        raise SparePromisedError(
            f"{spare.allocated} of these are promised already; fewer than that cannot be listed.",
            "count",
        )
    if spare.allocated and (new.material, variety.id) != (spare.material, spare.variety_id):
        raise SparePromisedError(
            "Some of these are promised; what they are and are sent as cannot change now.",
            "material",
        )


def check_spare(new: NewSpare, today: date) -> None:
    """Refuse what cannot be said of a spare."""
    if not 1 <= new.count <= MOST_PLANTS_A_LINE:
        raise SpareCountRefusedError(
            f"Write how many plants, from 1 to {MOST_PLANTS_A_LINE}.", "count"
        )
    if new.material is Material.SEED:
        raise SeedRefusedError(
            "Seed does not come true to a name, so it cannot be listed as a variety.",
            "material",
        )
    if new.health_on is not None and new.health_on > today:
        raise HealthDayRefusedError("That day has not come yet.", "health_on")
    _check_window(new, today)


def _check_window(new: NewSpare, today: date) -> None:
    if new.send_by < new.ready_from:
        raise WindowRefusedError(
            "The last day for sending is before the first; give a later one.", "send_by"
        )
    if new.send_by < today:
        raise WindowRefusedError("The last day for sending has passed.", "send_by")
    if new.send_by > today + LONGEST_AHEAD:
        raise WindowRefusedError("Give a last day within a year from now.", "send_by")
    if new.ready_from < today - LONGEST_AHEAD:
        raise WindowRefusedError("Give a first day within the last year.", "ready_from")
