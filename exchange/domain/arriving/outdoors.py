"""Hardening and planting out, what keeps under glass, and what must winter first."""

from dataclasses import dataclass, replace
from datetime import date

from exchange.domain.arriving import course as craft
from exchange.domain.arriving.arrival import ArrivalWindow
from exchange.domain.arriving.course import CareCourse
from exchange.domain.arriving.receiving import Receiving
from exchange.domain.arriving.step import (
    CareStep,
    OnlyFor,
    PlantsSafeFrom,
    SafeDateUnknown,
    StepKind,
    TooFewWarmNights,
    a_step,
    after,
)
from exchange.domain.growing.season import (
    BEGONIA_NIGHT_C,
    COLEUS_NIGHT_C,
    SHORTEST_OUT_DAYS,
    WAITS_FOR_WARM_NIGHTS,
    Season,
)
from exchange.domain.growing.variety import Species

IN_BEFORE_FROST_DAYS = 7
"""How long before the first early frost plants come in for the winter (common practice, no source) [days]."""


@dataclass(frozen=True, slots=True)
class _Together:
    """Plants of a course that go out on one day.

    Attributes
    ----------
    only : the reason that names them, where they are not all of the course
    """

    kinds: frozenset[Species]
    only: tuple[OnlyFor, ...]
    name: str


def outdoors(
    course: CareCourse, window: ArrivalWindow, at: Receiving, ready: date
) -> list[CareStep]:
    """Give hardening and planting out from the day plants are ready for it, and the winter before it.

    Kinds that wait for warm nights, and chrysanthemums, which need not wait so long, have steps of their own.
    """
    days = craft.HARDEN_DAYS[course.raised]
    if at.season is None:
        return [a_step(StepKind.PLANT_OUT, after(ready, days), None, SafeDateUnknown())]
    steps: list[CareStep] = []
    for group in _together(course.species):
        safe = at.out_from(group.kinds, window)
        out = _out(at.season, group, safe, (ready, days))
        steps += [replace(one, key=f"{one.key}{group.name}") for one in out]
    return [*_winters(course, window, at), *steps]


def _together(species: frozenset[Species]) -> list[_Together]:
    warm = species & WAITS_FOR_WARM_NIGHTS
    early = species & {Species.CHRYSANTHEMUM}
    groups = [(species - warm - early, ""), (warm, "-warm"), (early, "-early")]
    there = [(kinds, name) for kinds, name in groups if kinds]
    if len(there) == 1:
        return [_Together(species, (), "")]
    return [_Together(kinds, (OnlyFor(kinds),), name) for kinds, name in there]


def _out(
    season: Season, group: _Together, safe: date | None, when: tuple[date, int]
) -> list[CareStep]:
    """Give hardening and planting out from the day that is safe, or that they keep better under glass."""
    ready, days = when
    if safe is None:
        return [a_step(StepKind.UNDER_GLASS, ready, None, TooFewWarmNights(), *group.only)]
    begin = max(ready, after(safe, -days))
    out = max(safe, after(begin, days))
    waits = group.kinds <= WAITS_FOR_WARM_NIGHTS
    if waits and _too_short(out, craft.in_year_of(safe, season.last_night_10)):
        return [a_step(StepKind.UNDER_GLASS, ready, None, TooFewWarmNights(), *group.only)]
    cover = craft.in_year_of(safe, season.ground_frost_rare)
    safely = PlantsSafeFrom(
        safe, cover, _nights(group.kinds), group.kinds == {Species.CHRYSANTHEMUM}
    )
    return [
        a_step(StepKind.HARDEN, begin, after(out, -1), *group.only),
        a_step(StepKind.PLANT_OUT, out, None, safely, *group.only),
    ]


def _too_short(out: date, last_night: date | None) -> bool:
    return last_night is not None and (last_night - out).days < SHORTEST_OUT_DAYS


def _nights(kinds: frozenset[Species]) -> float | None:
    if kinds <= WAITS_FOR_WARM_NIGHTS:
        return COLEUS_NIGHT_C
    return BEGONIA_NIGHT_C if kinds == {Species.TUBEROUS_BEGONIA} else None


def _winters(course: CareCourse, window: ArrivalWindow, at: Receiving) -> list[CareStep]:
    """Give a step for each kind that comes too late to go out, from before the first early frost."""
    steps = []
    for kind in sorted(course.species):
        safe = at.out_from({kind}, window)
        if at.season is None or safe is None or safe.year == window.last.year:
            continue
        cold = at.season.last_night_10 if kind in WAITS_FOR_WARM_NIGHTS else at.season.first_frost
        settled = craft.settled_on(course, window)
        first = settled if cold is None else max(settled, after(cold, -IN_BEFORE_FROST_DAYS))
        last = max(first, after(safe, -craft.HARDEN_DAYS[course.raised]))
        step = a_step(StepKind.WINTER, first, last, OnlyFor(frozenset({kind})))
        steps.append(replace(step, key=f"{step.key}-{kind}".replace("_", "-")))
    return steps
