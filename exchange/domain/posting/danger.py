"""What endangers a parcel most on a day, in a word: frost or cold at an end or between, heat, the road."""

import math

import numpy as np
from numpy.typing import NDArray

from exchange.domain.posting.exposure import WARMEST_HOUR, night_low, warmest
from exchange.domain.posting.injury import tolerance
from exchange.domain.posting.options import Option, ParcelCase
from exchange.domain.posting.planned_days import PlannedDays, days_after, row_between
from exchange.domain.posting.reasons import DayWord
from exchange.domain.posting.transit import expected_days

FREEZING_C = 0.5
"""A day whose likely low is at most this, and so prints as 0, is said to bring frost, above it cold [degrees C]."""


def danger(
    planned: PlannedDays, case: ParcelCase, option: Option, beside: Option | None = None
) -> DayWord:
    """Say in a word what endangers an option most.

    Parameters
    ----------
    beside : the option it is compared with, where nothing passes what the plants themselves bear
    """
    tolerated = [tolerance(line.species, line.material, line.raised) for line in case.parcel.lines]
    receiver = planned.air.row[case.receiver.id]
    here, there, between = _coldest(planned, case, option)
    if min(option.box_tenth, here, there, between) < max(one.cold[0] for one in tolerated):
        if between < min(here, there):
            return DayWord.COLD_DEPOT
        likely = planned.air.middle
        if here <= there:
            frost = _nights_here(planned, case, option, likely) <= FREEZING_C
            return DayWord.FROST_HERE if frost else DayWord.COLD_HERE
        frost = _nights_there(planned, case, option, likely) <= FREEZING_C
        return DayWord.FROST_THERE if frost else DayWord.COLD_THERE
    warm = float(
        planned.air.hourly[WARMEST_HOUR, receiver, option.offset + _likeliest(option)].max()
    )
    if warm > min(one.heat[0] for one in tolerated):
        return DayWord.HEAT
    if beside is not None and option.box_tenth < beside.box_tenth:
        return DayWord.COLDER_HERE if here <= there else DayWord.COLDER_THERE
    return DayWord.RISKY


def _coldest(planned: PlannedDays, case: ParcelCase, option: Option) -> tuple[float, float, float]:
    """Give how cold it may be at the sender's, at the receiver's and between [degrees C]."""
    # The coldest 1 in 10, as for the box: the mean hides what makes a day risky.
    here = np.quantile(_nights_here(planned, case, option, planned.air.lows), 0.1)
    there = np.quantile(_nights_there(planned, case, option, planned.air.lows), 0.1)
    return float(here), float(there), _coldest_between(planned, option)


def _nights_here(
    planned: PlannedDays, case: ParcelCase, option: Option, lows: NDArray[np.float64]
) -> NDArray[np.float64]:
    """Give the night at the sender's that counts, that of the posting day [degrees C]."""
    found: NDArray[np.float64] = lows[planned.air.row[case.sender.id], option.offset]
    return found


def _nights_there(
    planned: PlannedDays, case: ParcelCase, option: Option, lows: NDArray[np.float64]
) -> NDArray[np.float64]:
    """Give the coldest night at the receiver's: outdoors until it most likely comes, then in the shelter [degrees C].

    The first night of the journey counts there only where it comes on the morning after.
    """
    receiver, comes = planned.air.row[case.receiver.id], option.offset + _likeliest(option)
    outdoors = lows[receiver, max(option.offset, min(option.offset + 1, comes - 1)) : comes]
    stays = slice(comes, comes + planned.around.terms.shelter_nights)
    indoors = night_low(warmest(case.shelters), lows[receiver, stays])
    found: NDArray[np.float64] = np.concatenate([outdoors, indoors]).min(axis=0)
    return found


def _likeliest(option: Option) -> int:
    """Give how many days after posting it comes most likely [d]."""
    after = [days_after(one, option.day) for one in option.coming]
    return after[int(np.argmax([one.chance for one in option.coming]))]


def _coldest_between(planned: PlannedDays, option: Option) -> float:
    """Give how cold the depots between may be: infinite where the way has no route point [degrees C]."""
    depot = row_between(planned, option.way)
    nights = nights_between(option)
    if depot is None or nights.start >= nights.stop:
        return math.inf
    lowest = float(np.quantile(planned.air.lows[depot, nights], 0.1))
    return lowest + option.way.depot_offset_c


def nights_between(option: Option) -> slice:
    """Give the nights a parcel may lie in depots between: all but the first, before it comes."""
    last = expected_days(option.coming)[1]
    return slice(option.offset + 1, option.offset + (last - option.day).days)
