"""Room for pots at a place.

Members are asked in seed trays; the program counts in pots. Room not given means no limit.
"""

from collections.abc import Iterable, Mapping, Sequence

from exchange.domain.growing.batch import Batch
from exchange.domain.growing.fit import WARM_TO_COLD
from exchange.domain.growing.shelter import Shelter, ShelterKind, stands_as

POTS_A_TRAY = 8
"""Nine-centimetre pots in a tray of about 37 by 23 cm: four by two [pots]."""

Taken = Mapping[tuple[int, ShelterKind], int]
"""Pots already standing: place and kind of shelter -> pots [pots]."""


def pots(plants: int) -> int:
    """Give the pots that plants take; each plant is potted up singly [pots]."""
    return plants


def taken_by(batches: Iterable[Batch]) -> dict[tuple[int, ShelterKind], int]:
    """Count the pots that living batches take in the shelters they stand in [pots]."""
    taken: dict[tuple[int, ShelterKind], int] = {}
    for batch in batches:
        if batch.shelter is not None:
            key = (batch.place_id, batch.shelter)
            taken[key] = taken.get(key, 0) + pots(batch.plants)
    return taken


def room_down_to(shelters: Sequence[Shelter], taken: Taken) -> tuple[int | None, ...]:
    """Give the free room in all shelters at least as warm as each kind, from warmest to coldest.

    Returns
    -------
    one entry a kind of `WARM_TO_COLD` [pots]; None: no limit; -1: there is no such shelter at all.
    Entries never fall, so that room taken by plants needing warmth is nested in the room of all.
    """
    if not shelters:
        return (None,) * len(WARM_TO_COLD)
    return tuple(_room_within(shelters, taken, depth) for depth in range(len(WARM_TO_COLD)))


def _room_within(shelters: Sequence[Shelter], taken: Taken, depth: int) -> int | None:
    """Give the free room in the shelters of the first `depth + 1` kinds."""
    fitting = [one for one in shelters if WARM_TO_COLD.index(stands_as(one)) <= depth]
    if not fitting:
        return -1
    if any(one.room_pots is None for one in fitting):
        return None
    return sum(
        max(0, (one.room_pots or 0) - taken.get((one.place_id, one.kind), 0)) for one in fitting
    )
