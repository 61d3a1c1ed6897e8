"""Options weighed: every parcel, day and way with its loss, and the weather's stops."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import date

import numpy as np
from numpy.typing import NDArray

from exchange.domain.posting.danger import danger, nights_between
from exchange.domain.posting.options import Option, ParcelCase, stock_kinds
from exchange.domain.posting.packing import Packing
from exchange.domain.posting.planned_days import (
    PlannedDays,
    Route,
    days_after,
    journeys,
    route,
    row_between,
    with_weather,
)
from exchange.domain.posting.reasons import DayWord, Stop
from exchange.domain.posting.risk import LossTable, risk_table
from exchange.domain.posting.stops import (
    arrival_stop,
    day_stop,
    lasting_stop,
    loss_limit,
    way_stop,
)
from exchange.domain.posting.transit import ArrivalChance, expected_days
from exchange.domain.posting.way import Way


def weigh(
    planned: PlannedDays, packings: Mapping[int, Packing], chosen: Sequence[ParcelCase]
) -> dict[int, tuple[Option, ...]]:
    """Weigh all options of the chosen parcels.

    Parameters
    ----------
    packings : parcel id -> the packing assumed

    Returns
    -------
    dict
        parcel id -> options by day, then way; days and ways that are stopped are among them
    """
    keys = with_weather(planned, chosen)
    laid, question = journeys(planned, packings, keys)
    index = {(case.parcel.id, each): number for number, (case, each) in enumerate(keys)}
    table = risk_table(laid, question) if laid else None
    return {
        case.parcel.id: tuple(_options(planned, case, packings[case.parcel.id], (table, index)))
        for case in chosen
    }


KnownLosses = tuple[LossTable | None, Mapping[tuple[int, Route], int]]


def _options(
    planned: PlannedDays, case: ParcelCase, packed: Packing, known: KnownLosses
) -> list[Option]:
    counts = np.array(list(stock_kinds(case).values()), dtype=float)
    lasting = lasting_stop(case, planned.around)
    found = []
    for offset, day in enumerate(planned.days):
        today = lasting or day_stop(case, day, planned.around)
        for way in case.ways:
            coming = planned.odds.coming(way, day, case.receiver)
            figures = _figures((case, way, offset, day), coming, counts, known)
            option = Option(case.parcel.id, day, offset, way, coming, packed, *figures)
            stop = (
                today
                or way_stop(case, day, way, planned.around)
                or arrival_stop(case, way, day, coming, planned.around)
                or weather_stop(planned, case, option)
            )
            found.append(option if stop is None else replace(option, stop=stop))
    return found


def _figures(
    what: tuple[ParcelCase, Way, int, date],
    coming: tuple[ArrivalChance, ...],
    counts: NDArray[np.float64],
    known: KnownLosses,
) -> tuple[float, float, float, float]:
    """Give loss, plants lost, and the box's lowest temperature, median and 1 in 10."""
    (case, way, offset, posted), (table, index) = what, known
    number = index.get((case.parcel.id, route(way)))
    if table is None or number is None:
        return math.nan, math.nan, math.nan, math.nan
    after = [days_after(one, posted) for one in coming]
    chances = np.array([one.chance for one in coming])
    by_kind = table.loss[number][:, offset, after] @ chances
    likeliest = after[int(chances.argmax())]
    middle, tenth = table.box_middle[number, offset], table.box_tenth[number, offset]
    return (
        float(by_kind.max()),
        float(by_kind @ counts),
        float(middle[likeliest]),
        float(tenth[likeliest]),
    )


def weather_stop(planned: PlannedDays, case: ParcelCase, option: Option) -> Stop | None:
    """Give what the weather says against an option: unknown, or a loss over the limit and why."""
    last = expected_days(option.coming)[1]
    if math.isnan(option.loss) or not _known(planned, case, option, last):
        return Stop(DayWord.UNKNOWN)
    if option.loss <= loss_limit(case.parcel, planned.around):
        return None
    return Stop(danger(planned, case, option), number=option.loss)


def _known(planned: PlannedDays, case: ParcelCase, option: Option, last: date) -> bool:
    sender, receiver = planned.air.row[case.sender.id], planned.air.row[case.receiver.id]
    until = min(option.offset + (last - option.day).days, planned.air.known.shape[1] - 1)
    nights = slice(option.offset, until + 1)
    depot = row_between(planned, option.way)
    between = depot is None or bool(planned.air.known[depot, nights_between(option)].all())
    ends = planned.air.known[sender, option.offset] and planned.air.known[receiver, nights].all()
    return between and bool(ends)
