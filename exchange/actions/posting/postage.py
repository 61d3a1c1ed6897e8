"""Postage: what a parcel cost and whether it was paid back, and the tariff as the organiser typed it in."""

from dataclasses import dataclass
from datetime import datetime

from exchange.actions.kernel.actor import Actor, note
from exchange.actions.kernel.edits import must_be_as_opened, version_of
from exchange.actions.kernel.refusals import RefusedError
from exchange.actions.posting.parcel_facts import subject_of
from exchange.actions.posting.ways import MOST_POSTAGE, is_by_hand
from exchange.domain.permissions import Permission
from exchange.records import PARCELS, TARIFF_BANDS, WAYS
from exchange.records.rows.posting import ParcelRow

LONGEST_BAND = 60
MOST_BANDS = 30


class PostageRefusedError(RefusedError):
    """What was said of postage cannot be kept."""


@dataclass(frozen=True, slots=True)
class Postage:
    """What is said of a parcel's postage.

    Attributes
    ----------
    paid : what it cost, None where it is not known [smallest coin]
    """

    paid: int | None
    repaid: bool = False


def keep_postage(
    actor: Actor, parcel_id: int, said: Postage, now: datetime, opened: str | None = None
) -> None:
    """Keep what a parcel cost and whether that was paid back; the parcel itself stays as it is.

    Parameters
    ----------
    opened : the version the form was opened with

    Raises
    ------
    PostageRefusedError
        When the sum is not believed, it goes by hand, or what was paid back is not known.
    EditedMeanwhileError
        When somebody else changed it after the form was opened.
    """
    if said.paid is not None and not 0 <= said.paid <= MOST_POSTAGE:
        raise PostageRefusedError("That is more than a parcel costs; look at the sum.", "paid")
    if said.paid is None and said.repaid:
        raise PostageRefusedError("Write what it cost first.", "paid")
    with actor.books.writing() as tx:
        entry = PARCELS.get(tx, actor.circle_id, parcel_id)
        actor.must(Permission.SAY_POSTED, subject_of(tx, actor, entry, now))
        must_be_as_opened(opened, postage_version(entry))
        way = WAYS.find(tx, actor.circle_id, id=entry.way_id or 0)
        if way is not None and is_by_hand(way) and said.paid:
            raise PostageRefusedError("It goes by hand, and costs nothing.", "paid")
        PARCELS.change(
            tx,
            actor.circle_id,
            parcel_id,
            postage=said.paid,
            postage_repaid=said.repaid,
            changed_at=now,
        )
        note(tx, actor, "kept the postage of a parcel", entry.code, now)


def postage_version(entry: ParcelRow) -> str:
    """Give the version of what is said of a parcel's postage, for its form."""
    return version_of(entry, ("postage", "postage_repaid"))


def add_band(actor: Actor, name: str, price: int, now: datetime) -> int:
    """Add a line to the tariff.

    Parameters
    ----------
    name : a size or weight, in the organiser's words
    price : of a parcel of that kind [smallest coin]

    Raises
    ------
    PostageRefusedError
        When the name is empty, too long or taken, the price is not believed, or there are too many.
    """
    actor.must(Permission.RUN_CIRCLE)
    name = " ".join(name.split())
    if not 1 <= len(name) <= LONGEST_BAND:
        raise PostageRefusedError(f"Say which parcels, in at most {LONGEST_BAND} letters.", "name")
    if not 0 <= price <= MOST_POSTAGE:
        raise PostageRefusedError("That is more than a parcel costs; look at the sum.", "price")
    with actor.books.writing() as tx:
        known = TARIFF_BANDS.all(tx, actor.circle_id)
        if any(one.name.casefold() == name.casefold() for one in known):
            raise PostageRefusedError("That stands in the tariff; take it out first.", "name")
        if len(known) >= MOST_BANDS:
            raise PostageRefusedError(f"There is room for {MOST_BANDS} lines.", "name")
        note(tx, actor, "added to the tariff", name, now)
        return TARIFF_BANDS.add(tx, actor.circle_id, name=name, price=price)


def remove_band(actor: Actor, band_id: int, now: datetime) -> None:
    """Take a line out of the tariff; what parcels cost stays as it was told."""
    actor.must(Permission.RUN_CIRCLE)
    with actor.books.writing() as tx:
        band = TARIFF_BANDS.get(tx, actor.circle_id, band_id)
        TARIFF_BANDS.remove(tx, actor.circle_id, band_id)
        note(tx, actor, "took out of the tariff", band.name, now)
