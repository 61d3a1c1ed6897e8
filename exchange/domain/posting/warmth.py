"""Plants that wait for warmth: the week from which usual nights are mild enough for them at both ends."""

from collections.abc import Iterable
from datetime import date, timedelta

from exchange.domain.posting.circumstances import Circumstances
from exchange.domain.posting.injury import tolerance
from exchange.domain.posting.options import ParcelCase
from exchange.domain.posting.parcel import Line
from exchange.domain.posting.reasons import PostingReason, Topic
from exchange.domain.posting.stops import ready_from
from exchange.domain.weather.climate import Climate, usual_night

WEEKS_AHEAD = 52
"""Weeks looked at: a whole year [weeks]."""


def warm_from(case: ParcelCase, around: Circumstances) -> PostingReason | None:
    """Give the first week whose usual nights at both ends are harmless to the tenderest plants in a parcel.

    Harmless is what costs fewer than 1 in 100 of them: the cold at which to be alarmed.

    Returns
    -------
    PostingReason
        With the Monday of that week, None for no such week, and the tenderest kind as its label. None where it is
        warm enough already by then (what holds the parcel is then a spell of weather), and where the usual
        nights of an end are not known.
    """
    ends = [around.usual.get(place.id) for place in (case.sender, case.receiver)]
    known = [one for one in ends if one is not None]
    if len(known) < len(ends):
        return None
    start = max(case.today, ready_from(case.parcel))
    monday = start - timedelta(days=start.weekday())
    limit_c, kind = tenderest(case.parcel.lines)
    weeks = [monday + timedelta(weeks=n) for n in range(WEEKS_AHEAD)]
    warm = next((week for week in weeks if _keeps_above(limit_c, week, known)), None)
    if warm == monday:
        return None
    return PostingReason(Topic.WARM_FROM, warm, label=kind)


def tenderest(lines: Iterable[Line]) -> tuple[float, str]:
    """Give the cold at which to be alarmed for the tenderest of some plants, and their kind [degrees C]."""
    return max(
        (tolerance(one.species, one.material, one.raised).cold[0], one.species.value)
        for one in lines
    )


def _keeps_above(limit_c: float, monday: date, ends: list[Climate]) -> bool:
    nights = [monday + timedelta(days=n) for n in range(7)]
    return all(usual_night(one, night).mean_c > limit_c for one in ends for night in nights)
