"""Where arrivals stand by night, from the coming nights of the place and its shelters."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from types import MappingProxyType

from exchange.domain.arriving.step import CareGroup, StandIn
from exchange.domain.growing.batch import Raised
from exchange.domain.growing.shelter import ADDS_K, HOLDS_C, ShelterKind
from exchange.domain.growing.variety import Species
from exchange.domain.weather.blend import chance_in
from exchange.domain.weather.forecast import Night, Outlook, WeatherSource

STANDING_LIMIT_C: Mapping[Species, float] = MappingProxyType(
    {
        Species.DAHLIA: 3.0,
        Species.PELARGONIUM: 2.0,
        Species.FUCHSIA: 3.0,
        Species.CHRYSANTHEMUM: 0.0,
        Species.SALVIA: 3.0,
        Species.COLEUS: 10.0,
        Species.BEGONIA: 10.0,
        Species.TUBEROUS_BEGONIA: 8.0,
        Species.FOLIAGE_BEGONIA: 10.0,
        Species.OTHER: 5.0,
    }
)
"""Coldest night that settled green plants should stand in [degrees C]; judgement, between the
temperatures at which growers begin to worry and at which leaves are lost; a begonia of unknown kind goes by
the tenderer one."""

RESTING_LIMIT_C = 2.0
"""Coldest night for resting tubers, by judgement: storage guides name 1.7 to 10 degrees C
(http://www.dahlias.net/dahwebpg/TuberStor/TuberStor5.htm) [degrees C]."""

STOOL_LIMIT_C = -4.0
"""Coldest night for boxed chrysanthemum stools, which winter in cold houses and frames, by judgement
(https://chrysanthemumsdirect.co.uk/acatalog/Overwinter_Treatment.html) [degrees C]."""

RAISED_EXTRA_K: Mapping[Raised, float] = MappingProxyType(
    {Raised.IN_HEAT: 3.0, Raised.COOL: 0.0, Raised.HARDENED: -1.0}
)
"""How much warmer (or cooler) plants must stand while they settle, by how they were raised; judgement [K]."""

COLD_CHANCE = 0.1
"""A night is named as too cold from this chance on, by judgement."""

_MILD_ORDER = (
    ShelterKind.FROST_FREE,
    ShelterKind.HEATED,
    ShelterKind.INDOORS,
    ShelterKind.COLD,
)
_WARM_ORDER = (
    ShelterKind.HEATED,
    ShelterKind.INDOORS,
    ShelterKind.FROST_FREE,
    ShelterKind.COLD,
)
_ROOTING_ORDER = (ShelterKind.PROPAGATOR, *_WARM_ORDER)
_HARD_ORDER = (ShelterKind.COLD, *_MILD_ORDER)


@dataclass(frozen=True, slots=True)
class Needs:
    """What plants of one course need by night.

    Attributes
    ----------
    limit_c : coldest night once settled [degrees C]
    settling_limit_c : coldest night until they are settled [degrees C]
    settled_on : first night on which they are settled
    settling_in, settled_in : where they stand before and after
    """

    limit_c: float
    settling_limit_c: float
    settled_on: date
    settling_in: StandIn
    settled_in: StandIn


@dataclass(frozen=True, slots=True)
class NightPlacement:
    """One coming night at the receiver's place, and where the plants should stand in it.

    Attributes
    ----------
    low_c : expected night minimum at screen height out of doors [degrees C]
    frost_chance : chance that it falls below 0 degrees C out of doors
    too_cold : the usual shelter is not enough
    """

    day: date
    low_c: float
    frost_chance: float
    too_cold: bool
    stand: ShelterKind
    limit_c: float
    source: WeatherSource


def chance_too_cold(night: Night, shelter: ShelterKind, limit_c: float) -> float:
    """Give the chance that it falls below the limit inside the shelter [degrees C]."""
    if HOLDS_C[shelter] >= limit_c:
        return 0.0
    return chance_in(night, limit_c - ADDS_K[shelter])


def usual_stand(kinds: Iterable[ShelterKind], group: CareGroup, raised: Raised) -> StandIn:
    """Choose the shelter for arrivals; indoors where the member named none that fits."""
    order = {
        CareGroup.UNROOTED: _ROOTING_ORDER,
        CareGroup.RESTING: _MILD_ORDER,
        CareGroup.SEED: _MILD_ORDER,
        CareGroup.STOOL: _HARD_ORDER,
        CareGroup.GREEN: {
            Raised.IN_HEAT: _WARM_ORDER,
            Raised.COOL: _MILD_ORDER,
            Raised.HARDENED: _HARD_ORDER,
        }[raised],
    }[group]
    known = set(kinds)
    for kind in order:
        if kind in known:
            return StandIn(kind)
    return StandIn(ShelterKind.INDOORS, told=False)


def warm_stand(kinds: Iterable[ShelterKind], limit_c: float) -> StandIn:
    """Choose where to carry them on a cold night: a heated house that holds it, else indoors."""
    known = set(kinds)
    if ShelterKind.HEATED in known and HOLDS_C[ShelterKind.HEATED] >= limit_c:
        return StandIn(ShelterKind.HEATED)
    return StandIn(ShelterKind.INDOORS, told=ShelterKind.INDOORS in known)


def night_stands(
    outlook: Outlook, first: date, until: date, needs: Needs, kinds: frozenset[ShelterKind]
) -> tuple[NightPlacement, ...]:
    """Give each known night from the first to the one before `until`, and where to stand in it."""
    return tuple(
        _stand(night, needs, kinds) for night in outlook.nights if first <= night.day < until
    )


def _stand(night: Night, needs: Needs, kinds: frozenset[ShelterKind]) -> NightPlacement:
    settled = night.day >= needs.settled_on
    limit = needs.limit_c if settled else needs.settling_limit_c
    usual = needs.settled_in if settled else needs.settling_in
    too_cold = chance_too_cold(night, usual.shelter, limit) >= COLD_CHANCE
    return NightPlacement(
        day=night.day,
        low_c=night.mean_c,
        frost_chance=chance_in(night),
        too_cold=too_cold,
        stand=warm_stand(kinds, limit).shelter if too_cold else usual.shelter,
        limit_c=limit,
        source=night.source,
    )


def runs(nights: Iterable[NightPlacement]) -> list[list[NightPlacement]]:
    """Group nights that follow each other without a gap."""
    grouped: list[list[NightPlacement]] = []
    for night in nights:
        if grouped and night.day - grouped[-1][-1].day == timedelta(days=1):
            grouped[-1].append(night)
        else:
            grouped.append([night])
    return grouped
