"""The days to be planned for some parcels, and the journeys on them as the risk table takes them."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from exchange.domain.growing.shelter import ShelterKind
from exchange.domain.posting.circumstances import Circumstances
from exchange.domain.posting.exposure import Air, air, sheltered_lows, warmest
from exchange.domain.posting.options import Odds, ParcelCase, days_from, stock_kinds
from exchange.domain.posting.packing import DAMP_LATENT_K, Packing, damp_wrapped
from exchange.domain.posting.risk import DELIVERED, RiskInput, RiskQuery
from exchange.domain.posting.transit import ArrivalChance
from exchange.domain.posting.way import Way

MOST_DAYS = 14
"""Days in the post beyond which a parcel is counted as coming on the last [d]."""

Route = tuple[float, int | None]
"""How much warmer the depots are [K], and the place whose air they have, None for the receiver's."""


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


def route(way: Way) -> Route:
    """Give the route a way takes; ways of one route share a journey."""
    return way.depot_offset_c, way.via_place_id


def with_weather(
    planned: PlannedDays, chosen: Sequence[ParcelCase]
) -> list[tuple[ParcelCase, Route]]:
    """List the journeys of parcels whose weather is known at both ends, on some night at least."""
    return [
        (case, each)
        for case in chosen
        if _weather_at(planned, case.sender.id) and _weather_at(planned, case.receiver.id)
        for each in dict.fromkeys(route(way) for way in case.ways)
    ]


def _weather_at(planned: PlannedDays, place_id: int) -> bool:
    row = planned.air.row.get(place_id)
    return row is not None and not math.isnan(planned.air.middle[row, 0])


def row_between(planned: PlannedDays, way: Way) -> int | None:
    """Give the row of the air between, or None where a way has no route point or its nights are not known."""
    return _row_of(planned, way.via_place_id)


def _row_of(planned: PlannedDays, via: int | None) -> int | None:
    return planned.air.row[via] if via is not None and _weather_at(planned, via) else None


def journeys(
    planned: PlannedDays, packings: Mapping[int, Packing], keys: Sequence[tuple[ParcelCase, Route]]
) -> tuple[list[RiskInput], RiskQuery]:
    """Lay out journeys and what is asked of them.

    Parameters
    ----------
    packings : by parcel id
    keys : as `with_weather` gives them
    """
    row = planned.air.row
    stays: dict[tuple[int, ShelterKind], int] = {}
    laid = []
    for case, (offset, via) in keys:
        packed = packings[case.parcel.id]
        stay = (row[case.receiver.id], warmest(case.shelters))
        boxed = packed.flat and case.receiver.letter_box
        laid.append(
            RiskInput(
                sender=row[case.sender.id],
                receiver=row[case.receiver.id],
                tau_h=packed.tau_h,
                latent_k=DAMP_LATENT_K if damp_wrapped(case.parcel.lines) else 0.0,
                indoors_at=DELIVERED if boxed else max(DELIVERED, case.receiver.home_by),
                depot_offset_c=offset,
                kinds=tuple(stock_kinds(case)),
                shelter=stays.setdefault(stay, len(stays)),
                through=_row_of(planned, via),
            )
        )
    question = RiskQuery(
        air=planned.air,
        sheltered=sheltered_lows(planned.air, list(stays), planned.around.terms.shelter_nights),
        days=len(planned.days),
        needed=planned.needed,
        packed_at_c=planned.around.terms.packed_at_c,
    )
    return laid, question
