"""A course of care: plants of one parcel that are treated alike, and what they need."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from types import MappingProxyType

from exchange.domain.arriving.arrival import ArrivalWindow
from exchange.domain.arriving.nights import (
    RAISED_EXTRA_K,
    RESTING_LIMIT_C,
    STANDING_LIMIT_C,
    STOOL_LIMIT_C,
    Needs,
    usual_stand,
    warm_stand,
)
from exchange.domain.arriving.step import CareGroup
from exchange.domain.growing.batch import Material, Raised
from exchange.domain.growing.shelter import HOLDS_C, ShelterKind
from exchange.domain.growing.variety import Species
from exchange.domain.posting.parcel import Line

_GROUPS: Mapping[Material, CareGroup] = MappingProxyType(
    {
        Material.UNROOTED: CareGroup.UNROOTED,
        Material.ROOTED: CareGroup.GREEN,
        Material.YOUNG_PLANT: CareGroup.GREEN,
        Material.STOOL: CareGroup.STOOL,
        Material.POT_TUBER: CareGroup.RESTING,
        Material.DIVISION: CareGroup.RESTING,
        Material.CLUMP: CareGroup.RESTING,
        Material.RHIZOME: CareGroup.RESTING,
        Material.SEED: CareGroup.SEED,
    }
)

SETTLE_NIGHTS: Mapping[Raised, int] = MappingProxyType(
    {Raised.IN_HEAT: 7, Raised.COOL: 3, Raised.HARDENED: 2}
)
"""Nights until arrivals have settled, by judgement [nights]."""

SHADE_DAYS: Mapping[Raised, int] = MappingProxyType(
    {Raised.IN_HEAT: 4, Raised.COOL: 3, Raised.HARDENED: 2}
)
"""Days out of the sun after days in the dark: "a few days",
http://cardunculus.blogspot.com/2017/04/the-dahlias-arrive.html; the figures are judgement [days]."""

HARDEN_DAYS: Mapping[Raised, int] = MappingProxyType(
    {Raised.IN_HEAT: 14, Raised.COOL: 10, Raised.HARDENED: 4}
)
"""Days of hardening off: at least a week (https://www.saga.co.uk/magazine/gardens/how-to-store-dahlias-in-winter),
a few weeks (https://www.dahlia-nds.co.uk/propagating-dahlias-from-cuttings); between them judgement [days]."""

ROOTING_DAYS: Mapping[Species, tuple[int, int]] = MappingProxyType(
    {
        Species.DAHLIA: (10, 25),
        Species.CHRYSANTHEMUM: (10, 28),
        Species.PELARGONIUM: (14, 28),
        Species.FUCHSIA: (14, 28),
        Species.SALVIA: (21, 28),
        Species.COLEUS: (7, 14),
        Species.BEGONIA: (14, 28),
        Species.TUBEROUS_BEGONIA: (14, 28),
        Species.FOLIAGE_BEGONIA: (14, 28),
        Species.OTHER: (14, 28),
    }
)
"""Days to root, soonest and latest: dahlia from growers' reports of 12 to 21 days
(https://gardening.which.co.uk/hc/en-gb/articles/360012846099-How-to-take-dahlia-cuttings), chrysanthemum
https://gardenadvice.co.uk/gardening-tips/spring-chrysanthumum-cuttings/, the others from memory [days]."""

INSERT_HOURS: Mapping[Species, int] = MappingProxyType(
    {
        kind: 4 if kind in {Species.DAHLIA, Species.COLEUS, Species.PELARGONIUM} else 24
        for kind in Species
    }
)
"""Hours from opening to standing in compost: Faust, Dole and Lopez, The floriculture vegetative cutting
industry, Horticultural Reviews 44 (2017), p. 150; others than named there: judgement [h]."""

ROOTING_WARMTH_C = (18, 21)
"""Warmth in which cuttings root: 65 to 70 F of the 65 to 75 F at
dahlia.org/docsinfo/articles/success-with-cuttings [degrees C]."""

ROOTING_LIMIT_C = 13.0
"""Coldest night for cuttings that are to root, by judgement [degrees C]."""

WARM_C = 8.0
"""What should stand no colder than this stands where the warmth is held, not where nights are mild on the
whole, by judgement [degrees C]."""

TOO_LATE_TO_PLANT_DAYS = 75
"""What comes so long after the safe date stays in for the winter, by judgement [days]."""


@dataclass(frozen=True, slots=True)
class CareCourse:
    """Plants treated alike.

    Attributes
    ----------
    raised : how they were raised; cool where that makes no difference
    """

    group: CareGroup
    raised: Raised
    species: frozenset[Species]
    allocation_ids: tuple[int, ...]
    materials: frozenset[Material] = frozenset()

    @property
    def key(self) -> str:
        """A stable name for the course within its parcel."""
        return f"{self.group}-{self.raised}" if self.group is CareGroup.GREEN else str(self.group)

    @property
    def rooting_days(self) -> tuple[int, int]:
        """Soonest and latest day on which all of them have rooted [days]."""
        spans = [ROOTING_DAYS[kind] for kind in self.species]
        return min(span[0] for span in spans), max(span[1] for span in spans)


_LIMITS: Mapping[CareGroup, float] = MappingProxyType(
    {
        CareGroup.RESTING: RESTING_LIMIT_C,
        CareGroup.SEED: RESTING_LIMIT_C,
        CareGroup.STOOL: STOOL_LIMIT_C,
    }
)


def group_of(material: Material) -> CareGroup:
    """Give the course plants of a material take."""
    return _GROUPS[material]


def courses(lines: Iterable[Line]) -> tuple[CareCourse, ...]:
    """Sort the lines of a parcel into courses, in the order in which they need attention."""
    sorted_lines: dict[tuple[CareGroup, Raised], list[Line]] = {}
    for line in lines:
        group = group_of(line.material)
        raised = line.raised if group is CareGroup.GREEN else Raised.COOL
        sorted_lines.setdefault((group, raised), []).append(line)
    order = [(group, raised) for group in CareGroup for raised in Raised]
    return tuple(
        CareCourse(
            group,
            raised,
            frozenset(line.species for line in sorted_lines[group, raised]),
            tuple(sorted(line.allocation_id for line in sorted_lines[group, raised])),
            frozenset(line.material for line in sorted_lines[group, raised]),
        )
        for group, raised in order
        if (group, raised) in sorted_lines
    )


def settled_on(course: CareCourse, window: ArrivalWindow) -> date:
    """Give the first day on which the plants are no longer newcomers."""
    if course.group is CareGroup.UNROOTED:
        return window.last + timedelta(days=course.rooting_days[1])
    return window.last + timedelta(days=SETTLE_NIGHTS[course.raised])


def needs(course: CareCourse, window: ArrivalWindow, kinds: frozenset[ShelterKind]) -> Needs:
    """Say what the plants need by night, and which of the receiver's shelters gives it."""
    if course.group in _LIMITS:
        limit = settling_limit = _LIMITS[course.group]
    else:
        limit = max(STANDING_LIMIT_C[kind] for kind in course.species)
        settling_limit = limit + RAISED_EXTRA_K[course.raised]
    if course.group is CareGroup.UNROOTED:
        settling_limit = max(settling_limit, ROOTING_LIMIT_C)
    settling_in = usual_stand(kinds, course.group, course.raised)
    tender = course.raised is Raised.IN_HEAT or course.group is CareGroup.UNROOTED
    if tender and HOLDS_C[settling_in.shelter] < settling_limit:
        settling_in = warm_stand(kinds, settling_limit)
    later = Raised.COOL if course.raised is Raised.IN_HEAT else course.raised
    settled_group = CareGroup.GREEN if course.group is CareGroup.UNROOTED else course.group
    settled_in = usual_stand(kinds, settled_group, later)
    if limit >= WARM_C and HOLDS_C[settled_in.shelter] < limit:
        settled_in = warm_stand(kinds, limit)
    return Needs(
        limit_c=limit,
        settling_limit_c=settling_limit,
        settled_on=settled_on(course, window),
        settling_in=settling_in,
        settled_in=settled_in,
    )


def safe_date_for(window: ArrivalWindow, safe_date: date | None) -> date | None:
    """Give the safe date the arrivals can still use: the next year's for what comes too late."""
    if safe_date is None:
        return None
    while window.last > safe_date + timedelta(days=TOO_LATE_TO_PLANT_DAYS):
        safe_date = _in_year(safe_date, safe_date.year + 1)
    return safe_date


def in_year_of(day: date, other: date | None) -> date | None:
    """Give the same day of the season in the year of another."""
    return None if other is None else _in_year(other, day.year)


def _in_year(day: date, year: int) -> date:
    try:
        return day.replace(year=year)
    except ValueError:  # 29 February
        return date(year, 3, 1)
