"""Parcels as the risk table takes them: a journey for each route the ways of a parcel take."""

import math
from collections.abc import Mapping, Sequence

from exchange.domain.growing.shelter import ShelterKind
from exchange.domain.posting.exposure import sheltered_lows, warmest
from exchange.domain.posting.options import ParcelCase, stock_kinds
from exchange.domain.posting.packing import DAMP_LATENT_K, Packing, damp_wrapped
from exchange.domain.posting.planned_days import PlannedDays
from exchange.domain.posting.risk import DELIVERED, RiskInput, RiskQuery
from exchange.domain.posting.way import Way

Route = tuple[float, int | None]
"""How much warmer the depots are [K], and the place whose air they have, None for the receiver's."""


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
