"""The days to be planned for some parcels, the odds on them, and the air at the places concerned."""

from dataclasses import dataclass
from datetime import date

from exchange.domain.posting.circumstances import Circumstances
from exchange.domain.posting.exposure import Air, air
from exchange.domain.posting.options import Odds, ParcelCase, days_from
from exchange.domain.posting.transit import ArrivalChance

MOST_DAYS = 14
"""Days in the post beyond which a parcel is counted as coming on the last [d]."""


@dataclass(slots=True)
class PlannedDays:
    """The days to be planned, with the odds and the air on them.

    Attributes
    ----------
    days : the days on which a parcel may be posted
    needed : whether any parcel may be so many days in the post, from 0
    """

    around: Circumstances
    cases: tuple[ParcelCase, ...]
    days: tuple[date, ...]
    odds: Odds
    needed: tuple[bool, ...]
    air: Air


def planned_days(laid: tuple[ParcelCase, ...], around: Circumstances) -> PlannedDays:
    """Prepare the days, odds and air for some parcels."""
    first = min(case.today for case in laid)
    spread = max((case.today - first).days for case in laid)
    days = days_from(first, around.terms.horizon + spread)
    odds = Odds(around)
    needed = {0}
    for case in laid:
        for way in case.ways:
            for day in days:
                needed |= {days_after(one, day) for one in odds.coming(way, day, case.receiver)}
    length = max(needed) + 1
    places = {place.id for case in laid for place in (case.sender, case.receiver)}
    places |= {way.via_place_id for case in laid for way in case.ways if way.via_place_id}
    outlooks = {place: around.outlooks[place] for place in places if place in around.outlooks}
    reach = len(days) + length + around.terms.shelter_nights
    return PlannedDays(
        around,
        laid,
        days,
        odds,
        tuple(after in needed for after in range(length)),
        air(outlooks, first, reach, around.terms.scenarios, around.outlooks),
    )


def days_after(one: ArrivalChance, posted: date) -> int:
    """Count the days from posting to an arrival, at most MOST_DAYS [d]."""
    return min((one.day - posted).days, MOST_DAYS)
