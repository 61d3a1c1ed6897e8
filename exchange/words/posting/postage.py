"""Postage in the members' words, and the usual caution beside it."""

from exchange.domain.arriving.cautions import plant_health_authority
from exchange.domain.posting.postage import PostageTotal
from exchange.words.kernel.cautions import authority
from exchange.words.kernel.money import amount
from exchange.words.kernel.phrase import counted


def lead(total: PostageTotal, country: str) -> str:
    """Say what was paid and what is still to be paid back, and of how many parcels that is known."""
    if not total.parcels:
        return "Nothing has been posted yet in this season."
    if not total.told:
        return f"{counted(total.parcels, 'parcel', 'parcels')} posted; of none is it said what it cost."
    known = f"told of {total.told} of {counted(total.parcels, 'parcel', 'parcels')}"
    said = f"{amount(total.paid, country)} in all, {known}"
    if total.open:
        return f"{said}. {amount(total.open, country)} is still to be paid back."
    return f"{said}. All of it has been paid back."


def in_report(total: PostageTotal, country: str) -> str:
    """Give "£41.20, of which £30.10 paid back; told of 12 of 57"."""
    if not total.told:
        return f"told of none of {total.parcels}"
    paid, back = amount(total.paid, country), amount(total.repaid, country)
    return f"{paid}, of which {back} paid back; told of {total.told} of {total.parcels}"


def said(postage: int | None, country: str, *, repaid: bool) -> str:
    """Say what one parcel cost."""
    if postage is None:
        return "not told yet"
    return f"{amount(postage, country)}, {'paid back' if repaid else 'not paid back yet'}"


def caution(country: str, subdivision: str) -> str:
    """State the usual caution on selling plants, and whom to ask; nothing is ruled on."""
    whom = authority(plant_health_authority(country, subdivision))
    return (
        "Only postage is kept here; a plant never has a price. Selling plants, also for a good cause, may need "
        f"a plant passport or a registration: ask {whom} first."
    )
