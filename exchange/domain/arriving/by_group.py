"""Steps of care for one course, by what its plants are."""

from exchange.domain.arriving import course as craft
from exchange.domain.arriving.arrival import ArrivalWindow
from exchange.domain.arriving.at_rest import at_rest, stools
from exchange.domain.arriving.course import CareCourse
from exchange.domain.arriving.nights import Needs, NightPlacement, runs, warm_stand
from exchange.domain.arriving.outdoors import outdoors
from exchange.domain.arriving.receiving import FROM_FORECAST, Receiving, nights_of
from exchange.domain.arriving.step import (
    CareGroup,
    CareStep,
    ColdNights,
    InsertWithin,
    NoCover,
    RaisedInHeat,
    Reason,
    StandIn,
    StepKind,
    ThenIn,
    UsuallyCold,
    a_step,
    after,
)
from exchange.domain.growing.batch import Raised
from exchange.domain.growing.shelter import HOLDS_C
from exchange.domain.growing.variety import Species

AFTER_ROOTING_DAYS = 14
"""Time in the pot between rooting and hardening off, by judgement [days]."""

USUALLY_COLD_SHARE = 0.1
"""Share of usual nights too cold from which the usual weather is named as a reason, by judgement."""


def steps_for(course: CareCourse, window: ArrivalWindow, at: Receiving) -> list[CareStep]:
    """Give the steps that this course needs beside what every parcel needs."""
    steps = {
        CareGroup.UNROOTED: _unrooted,
        CareGroup.GREEN: _green,
        CareGroup.STOOL: stools,
        CareGroup.RESTING: at_rest,
        CareGroup.SEED: _seed,
    }[course.group](course, window, at)
    return [*steps, *_cold_nights(course, window, at)]


def _green(course: CareCourse, window: ArrivalWindow, at: Receiving) -> list[CareStep]:
    heat: tuple[Reason, ...] = (RaisedInHeat(),) if course.raised is Raised.IN_HEAT else ()
    wanted = craft.needs(course, window, at.kinds)
    steps = [
        a_step(StepKind.POT_UP, window.first, window.last),
        a_step(StepKind.SHADE, window.first, after(window.last, craft.SHADE_DAYS[course.raised])),
        _first_nights(course, window, at, wanted, heat),
    ]
    return [*steps, *outdoors(course, window, at, wanted.settled_on)]


def _unrooted(course: CareCourse, window: ArrivalWindow, at: Receiving) -> list[CareStep]:
    soonest, latest = course.rooting_days
    uncovered: tuple[Reason, ...] = ()
    if Species.PELARGONIUM in course.species:
        uncovered = (NoCover(all_of_them=len(course.species) == 1),)
    hours = min(craft.INSERT_HOURS[kind] for kind in course.species)
    wanted = craft.needs(course, window, at.kinds)
    rooted = after(window.last, latest)
    steps = [
        a_step(StepKind.INSERT, window.first, window.last, InsertWithin(hours), *uncovered),
        a_step(StepKind.SHADE, window.first, after(window.last, soonest), *uncovered),
        _first_nights(course, window, at, wanted, ()),
        a_step(StepKind.POT_ROOTED, after(window.first, soonest), rooted),
    ]
    return [*steps, *outdoors(course, window, at, after(rooted, AFTER_ROOTING_DAYS))]


def _seed(course: CareCourse, window: ArrivalWindow, at: Receiving) -> list[CareStep]:
    cool = craft.needs(course, window, at.kinds).settled_in
    return [a_step(StepKind.KEEP_COOL, window.first, None, cool)]


def _first_nights(
    course: CareCourse, window: ArrivalWindow, at: Receiving, wanted: Needs, why: tuple[Reason, ...]
) -> CareStep:
    known = nights_of(course, window, at)
    first = _settling_in(course, window, at, wanted, known)
    reasons: list[Reason] = [*why, first]
    share = _usually_cold([night for night in known if night.day >= wanted.settled_on])
    if share >= USUALLY_COLD_SHARE:
        reasons.append(UsuallyCold(share, wanted.settled_in.shelter))
    elif wanted.settled_in.shelter is not first.shelter:
        reasons.append(ThenIn(wanted.settled_in.shelter))
    last = after(wanted.settled_on, -1)
    return a_step(StepKind.FIRST_NIGHTS, window.first, last, *reasons)


def _settling_in(
    course: CareCourse,
    window: ArrivalWindow,
    at: Receiving,
    wanted: Needs,
    known: tuple[NightPlacement, ...],
) -> StandIn:
    """Where no forecast reaches and an unheated house is usually or possibly too cold: warmer."""
    first = [night for night in known if night.day < wanted.settled_on]
    held = HOLDS_C[wanted.settling_in.shelter] >= wanted.settling_limit_c
    if held or any(night.source in FROM_FORECAST for night in first):
        return wanted.settling_in
    out = at.out_from(course.species, window)
    safe = out is not None and window.first >= out
    nothing_known = not first and not safe
    if nothing_known or _usually_cold(first) >= USUALLY_COLD_SHARE:
        return warm_stand(at.kinds, wanted.settling_limit_c)
    return wanted.settling_in


def _usually_cold(nights: list[NightPlacement]) -> float:
    usual = [night for night in nights if night.source not in FROM_FORECAST]
    return sum(night.too_cold for night in usual) / len(usual) if usual else 0.0


def _cold_nights(course: CareCourse, window: ArrivalWindow, at: Receiving) -> list[CareStep]:
    cold = [
        night
        for night in nights_of(course, window, at)
        if night.too_cold and night.source in FROM_FORECAST
    ]
    return [
        CareStep(
            kind=StepKind.COLD_NIGHT,
            key=f"cold-night-{run[0].day:%Y%m%d}",
            first=run[0].day,
            last=run[-1].day,
            reasons=(
                StandIn(run[0].stand, told=run[0].stand in at.kinds),
                ColdNights(
                    tuple(night.day for night in run),
                    max(night.limit_c for night in run),
                    min(night.low_c for night in run),
                ),
            ),
        )
        for run in runs(cold)
    ]
