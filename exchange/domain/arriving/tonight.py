"""Which pots stand too cold tonight: newcomers, plants raised in heat, plants not hardened off."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from exchange.domain.arriving.arrival import ArrivalWindow
from exchange.domain.arriving.course import CareCourse, group_of, needs
from exchange.domain.arriving.nights import COLD_CHANCE, chance_too_cold, warm_stand
from exchange.domain.arriving.step import CareGroup, StandIn
from exchange.domain.growing.batch import GREEN, Batch, Raised
from exchange.domain.growing.shelter import ShelterKind
from exchange.domain.growing.variety import Species
from exchange.domain.weather.forecast import Night

RECENT_DAYS = 28
"""How long after it came a plant is a newcomer and is watched (judgement) [d]."""

FROST_HOUR = 14
"""Hour of the place's day at which members hear of a cold night: in time before sunset [h]."""


HOLDS_ITS_WARMTH = frozenset({ShelterKind.PROPAGATOR, ShelterKind.INDOORS, ShelterKind.HEATED})
"""Shelters whose warmth does not depend on the night outside."""


@dataclass(frozen=True, slots=True)
class ColdPots:
    """Pots that should not stand tonight where they do.

    Attributes
    ----------
    stands : where they stand; not told where the member did not say
    limit_c : coldest night they should have [degrees C]
    chance : that it falls below that where they stand
    carry_to : the shelter that is warm enough
    """

    batch: Batch
    stands: StandIn
    limit_c: float
    chance: float
    carry_to: StandIn


def is_watched(batch: Batch, today: date) -> bool:
    """Say whether a batch came lately, or is green and not hardened off."""
    if batch.plants < 1:
        return False
    recent = batch.since is not None and today - batch.since <= timedelta(days=RECENT_DAYS)
    return recent or (batch.material in GREEN and batch.raised is not Raised.HARDENED)


def cold_tonight(
    batches: Iterable[tuple[Batch, Species]],
    nights: Sequence[Night],
    kinds: frozenset[ShelterKind],
) -> tuple[ColdPots, ...]:
    """Name the pots of one place that are likely too cold tonight where they stand.

    Parameters
    ----------
    nights : the coming one, its day today, as each source has it; the worst for each pot is used
    kinds : shelters of the place

    Raises
    ------
    ValueError
        without a night
    """
    if not nights:
        raise ValueError("Pots are told of a night only where one is known.")
    today = nights[0].day
    found = []
    for batch, species in batches:
        if not is_watched(batch, today):
            continue
        since = batch.since or today
        group = group_of(batch.material)
        raised = batch.raised if group is CareGroup.GREEN else Raised.COOL
        course = CareCourse(group, raised, frozenset({species}), (batch.id,))
        wanted = needs(course, ArrivalWindow(since, since), kinds)
        stands = StandIn(batch.shelter) if batch.shelter else wanted.settling_in
        if stands.shelter in HOLDS_ITS_WARMTH:
            continue
        limit = wanted.settling_limit_c
        chance = max(chance_too_cold(night, stands.shelter, limit) for night in nights)
        if chance >= COLD_CHANCE:
            found.append(ColdPots(batch, stands, limit, chance, warm_stand(kinds, limit)))
    return tuple(found)
