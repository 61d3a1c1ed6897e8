"""The first nights after arrival, in the receiver's shelter."""

from collections.abc import Iterable

import numpy as np
from numpy.typing import NDArray

from exchange.domain.growing.shelter import Shelter, ShelterKind
from exchange.domain.posting.exposure import Air

Array = NDArray[np.float64]

WARMEST_FIRST = tuple(ShelterKind)
HELD_AT_C = {
    ShelterKind.PROPAGATOR: 18.0,
    ShelterKind.INDOORS: 12.0,
    ShelterKind.HEATED: 8.0,
    ShelterKind.FROST_FREE: 4.0,
}
"""The temperature that shelters hold by night at least (judgement) [degrees C]."""
GLASS_K = 2.0
"""What walls or glass add to the night outside (judgement) [K]."""


def warmest(shelters: Iterable[Shelter]) -> ShelterKind:
    """Find the warmest shelter; pots that can be carried in at night count as indoors.

    A place of which no shelter is known counts as indoors: its window sill.
    """
    kinds = {ShelterKind.INDOORS if one.carried_in else one.kind for one in shelters}
    return min(kinds or {ShelterKind.INDOORS}, key=WARMEST_FIRST.index)


def night_low(kind: ShelterKind, outside: Array) -> Array:
    """Give the night's lowest temperature in a shelter [degrees C]."""
    if kind is ShelterKind.OPEN_GROUND:
        return outside
    glass: Array = np.maximum(outside + GLASS_K, HELD_AT_C.get(kind, -np.inf))
    return glass


def sheltered_lows(air: Air, stays: list[tuple[int, ShelterKind]], nights: int) -> Array:
    """Give the lowest temperature over the first nights from each day on.

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
