"""The first nights after arrival, in the receiver's shelter."""

from collections.abc import Iterable

import numpy as np
from numpy.typing import NDArray

from exchange.domain.growing.shelter import ADDS_K, HOLDS_C, Shelter, ShelterKind, stands_as
from exchange.domain.posting.exposure import Air

Array = NDArray[np.float64]

WARMEST_FIRST = tuple(ShelterKind)


def warmest(shelters: Iterable[Shelter]) -> ShelterKind:
    """Find the warmest shelter; pots that can be carried in at night count as free of frost.

    A place of which no shelter is known counts as indoors: its window sill.
    """
    kinds = {stands_as(one) for one in shelters}
    return min(kinds or {ShelterKind.INDOORS}, key=WARMEST_FIRST.index)


def night_low(kind: ShelterKind, outside: Array) -> Array:
    """Give the night's lowest temperature in a shelter [degrees C]."""
    inside: Array = np.maximum(outside + ADDS_K[kind], HOLDS_C[kind])
    return inside


def sheltered_lows(air: Air, stays: list[tuple[int, ShelterKind]], nights: int) -> Array:
    """Give the lowest temperature over the first nights from each day on.

    It is taken as held for three hours: at the end of a night the air changes by some 0.3 K in that time.

    Parameters
    ----------
    stays : row of the air and shelter, one for each row of the result

    Returns
    -------
    array (stays, days, scenarios)
        near the end fewer nights are known and counted
    """
    days = air.lows.shape[1]
    found = np.empty((len(stays), *air.lows.shape[1:]))
    for index, (row, kind) in enumerate(stays):
        low = night_low(kind, air.lows[row])
        for day in range(days):
            found[index, day] = low[day : day + nights].min(axis=0)
    return found
