"""Options weighed: every parcel, day and way with its loss, and the weather's stops."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date

import numpy as np
from numpy.typing import NDArray

from exchange.domain.growing.shelter import ShelterKind
from exchange.domain.posting.circumstances import Circumstances
from exchange.domain.posting.exposure import Air, air
from exchange.domain.posting.injury import tolerance
from exchange.domain.posting.options import Case, Odds, Option, days_from, stock_kinds
from exchange.domain.posting.packing import DAMP_LATENT_K, Packing, damp_wrapped
from exchange.domain.posting.reasons import DayWord, Stop
from exchange.domain.posting.risk import DELIVERED, Journey, Question, Table, risk_table
from exchange.domain.posting.sheltered import sheltered_lows, warmest
from exchange.domain.posting.stops import (
    arrival_stop,
    day_stop,
    lasting_stop,
    loss_limit,
    way_stop,
)
from exchange.domain.posting.transit import Arrival, expected_days
from exchange.domain.posting.way import Way

MOST_DAYS = 14
"""Days in the post beyond which a parcel is counted as coming on the last [d]."""


@dataclass(slots=True)
class Weighing:
    """The days planned and the odds on them.

    Attributes
    ----------
    days : the days on which a parcel may be posted
    reach : most days to delivery that any way needs, at most MOST_DAYS [d]
    """

    around: Circumstances
    cases: tuple[Case, ...]
    days: tuple[date, ...]
    odds: Odds
    needed: tuple[bool, ...]
    air: Air


def weighing(laid: tuple[Case, ...], around: Circumstances) -> Weighing:
    """Prepare the days, odds and air for some parcels."""
    first = min(case.today for case in laid)
    spread = max((case.today - first).days for case in laid)
    days = days_from(first, around.terms.horizon + spread)
    odds = Odds(around)
    needed = {0}
    for case in laid:
        for way in case.ways:
            for day in days:
                needed |= {_after(one, day) for one in odds.coming(way, day, case.receiver)}
    length = max(needed) + 1
    places = {place.id for case in laid for place in (case.sender, case.receiver)}
    outlooks = {place: around.outlooks[place] for place in places if place in around.outlooks}
    reach = len(days) + length + around.terms.shelter_nights
    return Weighing(
        around,
        laid,
        days,
        odds,
        tuple(after in needed for after in range(length)),
        air(outlooks, first, reach, around.terms.scenarios),
    )


def _after(one: Arrival, posted: date) -> int:
    return min((one.day - posted).days, MOST_DAYS)


def weigh(
    desk: Weighing, packings: Mapping[int, Packing], chosen: Sequence[Case]
) -> dict[int, tuple[Option, ...]]:
    """Weigh all options of the chosen parcels.

    Parameters
    ----------
    packings : parcel id -> packing reckoned with

    Returns
    -------
    dict
        parcel id -> options by day, then way; days and ways that are stopped are among them
    """
    keys = [(case, offset) for case in chosen for offset in _offsets(case)]
    journeys = _journeys(desk, packings, keys)
    index = {
        (case.parcel.id, offset): number
        for number, (case, offset) in enumerate(_reckoned(desk, keys))
    }
    table = risk_table(journeys[0], journeys[1]) if journeys[0] else None
    return {
        case.parcel.id: tuple(_options(desk, case, packings[case.parcel.id], (table, index)))
        for case in chosen
    }


def _offsets(case: Case) -> tuple[float, ...]:
    return tuple(sorted({way.depot_offset_c for way in case.ways}))


def _reckoned(desk: Weighing, keys: Sequence[tuple[Case, float]]) -> list[tuple[Case, float]]:
    """Keep the parcels whose weather is known at both ends, on some night at least."""
    row = desk.air.row
    return [
        (case, offset)
        for case, offset in keys
        if all(
            place.id in row and not math.isnan(desk.air.middle[row[place.id], 0])
            for place in (case.sender, case.receiver)
        )
    ]


def _journeys(
    desk: Weighing, packings: Mapping[int, Packing], keys: Sequence[tuple[Case, float]]
) -> tuple[list[Journey], Question]:
    row = desk.air.row
    stays: dict[tuple[int, ShelterKind], int] = {}
    journeys = []
    for case, offset in _reckoned(desk, keys):
        packed = packings[case.parcel.id]
        kind = warmest(case.shelters)
        shelter = stays.setdefault((row[case.receiver.id], kind), len(stays))
        boxed = packed.flat and case.receiver.letter_box
        journeys.append(
            Journey(
                sender=row[case.sender.id],
                receiver=row[case.receiver.id],
                tau_h=packed.tau_h,
                latent_k=DAMP_LATENT_K if damp_wrapped(case.parcel.lines) else 0.0,
                indoors_at=DELIVERED if boxed else max(DELIVERED, case.receiver.home_by),
                depot_offset_c=offset,
                kinds=tuple(stock_kinds(case)),
                shelter=shelter,
            )
        )
    question = Question(
        air=desk.air,
        sheltered=sheltered_lows(desk.air, list(stays), desk.around.terms.shelter_nights),
        days=len(desk.days),
        needed=desk.needed,
        packed_at_c=desk.around.terms.packed_at_c,
    )
    return journeys, question


Reckoned = tuple[Table | None, Mapping[tuple[int, float], int]]


def _options(desk: Weighing, case: Case, packed: Packing, reckoned: Reckoned) -> list[Option]:
    counts = np.array(list(stock_kinds(case).values()), dtype=float)
    lasting = lasting_stop(case, desk.around)
    found = []
    for offset, day in enumerate(desk.days):
        today = lasting or day_stop(case, day, desk.around)
        for way in case.ways:
            coming = desk.odds.coming(way, day, case.receiver)
            figures = _figures((case, way, offset, day), coming, counts, reckoned)
            option = Option(case.parcel.id, day, offset, way, coming, packed, *figures)
            stop = (
                today
                or way_stop(case, day, way, desk.around)
                or arrival_stop(case, way, day, coming, desk.around)
                or weather_stop(desk, case, option)
            )
            found.append(option if stop is None else replace(option, stop=stop))
    return found


def _figures(
    what: tuple[Case, Way, int, date],
    coming: tuple[Arrival, ...],
    counts: NDArray[np.float64],
    reckoned: Reckoned,
) -> tuple[float, float, float, float]:
    """Give loss, plants lost, and the box's lowest temperature, median and 1 in 10."""
    (case, way, offset, posted), (table, index) = what, reckoned
    number = index.get((case.parcel.id, way.depot_offset_c))
    if table is None or number is None:
        return math.nan, math.nan, math.nan, math.nan
    after = [_after(one, posted) for one in coming]
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


def weather_stop(desk: Weighing, case: Case, option: Option) -> Stop | None:
    """Give what the weather says against an option: unknown, or a loss over the limit and why."""
    last = expected_days(option.coming)[1]
    if math.isnan(option.loss) or not _known(desk, case, option, last):
        return Stop(DayWord.UNKNOWN)
    if option.loss <= loss_limit(case.parcel, desk.around):
        return None
    return Stop(danger(desk, case, option), number=option.loss)


def _known(desk: Weighing, case: Case, option: Option, last: date) -> bool:
    sender, receiver = desk.air.row[case.sender.id], desk.air.row[case.receiver.id]
    until = min(option.offset + (last - option.day).days, desk.air.known.shape[1] - 1)
    nights = slice(option.offset, until + 1)
    return bool(desk.air.known[sender, option.offset] and desk.air.known[receiver, nights].all())


def danger(desk: Weighing, case: Case, option: Option) -> DayWord:
    """Say in a word what endangers an option most: cold at either end, heat, or the road itself."""
    stands = [tolerance(line.species, line.material, line.raised) for line in case.parcel.lines]
    sender, receiver = desk.air.row[case.sender.id], desk.air.row[case.receiver.id]
    after = [_after(one, option.day) for one in option.coming]
    likeliest = after[int(np.argmax([one.chance for one in option.coming]))]
    here = float(np.quantile(desk.air.lows[sender, option.offset], 0.1))
    nights = slice(option.offset, option.offset + likeliest + desk.around.terms.shelter_nights)
    there = float(np.quantile(desk.air.lows[receiver, nights], 0.1))
    if min(option.box_tenth, here, there) < max(one.cold[0] for one in stands):
        return DayWord.FROST_HERE if here <= there else DayWord.FROST_THERE
    warm = float(desk.air.hourly[15, receiver, option.offset + likeliest].max())
    if warm > min(one.heat[0] for one in stands):
        return DayWord.HEAT
    return DayWord.RISKY
