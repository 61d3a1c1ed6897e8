"""Steps of care for one course, by what its plants are."""

from dataclasses import replace
from datetime import date, timedelta

from exchange.domain.arriving import course as craft
from exchange.domain.arriving.arrival import ArrivalWindow
from exchange.domain.arriving.course import CareCourse
from exchange.domain.arriving.nights import Needs, NightPlacement, runs, warm_stand
from exchange.domain.arriving.receiving import FROM_FORECAST, Receiving, nights_of
from exchange.domain.arriving.step import (
    BeforeSafeDate,
    CareGroup,
    CareStep,
    ColdNights,
    InsertWithin,
    NoCover,
    OnlyFor,
    PlantsSafeFrom,
    RaisedInHeat,
    Reason,
    SafeDateUnknown,
    StandIn,
    StepKind,
    ThenIn,
    TooFewWarmNights,
    UsuallyCold,
)
from exchange.domain.growing.batch import Raised
from exchange.domain.growing.season import WAITS_FOR_WARM_NIGHTS
from exchange.domain.growing.shelter import HOLDS_C
from exchange.domain.growing.variety import Species

START_BEFORE_SAFE_DAYS = 70
"""From waking to planting out 10 to 12 weeks
(https://fraylick.com/a-little-flower-therapy/category/Growing%20Dahlias) [days]."""

STRAIGHT_OUT_DAYS = 21
"""Resting tubers that come so shortly before the safe date go straight into the ground, by judgement
(mid-April where late May is safe, if shoots are covered, is what one society says) [days]."""

PLANT_WITHIN_DAYS = 14
"""A fortnight to start or plant resting tubers, by judgement [days]."""

AFTER_ROOTING_DAYS = 14
"""Time in the pot between rooting and hardening off, by judgement [days]."""

USUALLY_COLD_SHARE = 0.1
"""Share of usual nights too cold from which the usual weather is named as a reason, by judgement."""


def steps_for(course: CareCourse, window: ArrivalWindow, at: Receiving) -> list[CareStep]:
    """Give the steps that this course needs beside what every parcel needs."""
    steps = {
        CareGroup.UNROOTED: _unrooted,
        CareGroup.GREEN: _green,
        CareGroup.STOOL: _green,
        CareGroup.RESTING: _resting,
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
    return [*steps, *_outdoors(course, window, at, wanted.settled_on)]


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
    return [*steps, *_outdoors(course, window, at, after(rooted, AFTER_ROOTING_DAYS))]


def _resting(course: CareCourse, window: ArrivalWindow, at: Receiving) -> list[CareStep]:
    safe = at.out_from(course.species, window)
    cool = craft.needs(course, window, at.kinds).settled_in
    if safe is not None and window.last >= after(safe, -STRAIGHT_OUT_DAYS):
        until = after(window.last, PLANT_WITHIN_DAYS)
        why: Reason = BeforeSafeDate(safe) if window.first < safe else PlantsSafeFrom(safe)
        return [
            a_step(StepKind.KEEP_COOL, window.first, until, cool),
            a_step(StepKind.PLANT_OUT, window.first, until, why),
        ]
    start = window.first
    if safe is not None:
        start = max(start, after(safe, -START_BEFORE_SAFE_DAYS))
    steps = [a_step(StepKind.START, start, after(max(start, window.last), PLANT_WITHIN_DAYS))]
    if start > window.last:
        steps.append(a_step(StepKind.KEEP_COOL, window.first, start, cool))
    shoots_ready = after(max(start, window.last), 2 * PLANT_WITHIN_DAYS)
    return [*steps, *_outdoors(course, window, at, shoots_ready)]


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


def _outdoors(
    course: CareCourse, window: ArrivalWindow, at: Receiving, ready: date
) -> list[CareStep]:
    """Give hardening and planting out; what waits for warm nights has steps of its own, and the rest need not wait."""
    days = craft.HARDEN_DAYS[course.raised]
    if at.season is None:
        return [a_step(StepKind.PLANT_OUT, after(ready, days), None, SafeDateUnknown())]
    waiting = course.species & WAITS_FOR_WARM_NIGHTS
    steps = []
    for kinds in (course.species - waiting, waiting):
        if kinds:
            only = () if kinds == course.species else (OnlyFor(kinds),)
            steps += _out(
                at.out_from(kinds, window), ready, days, at.season.ground_frost_rare, only
            )
    if len(waiting) in (0, len(course.species)):
        return steps
    return [
        replace(step, key=f"{step.key}-warm") if OnlyFor(waiting) in step.reasons else step
        for step in steps
    ]


def _out(
    safe: date | None, ready: date, days: int, cover_until: date | None, only: tuple[OnlyFor, ...]
) -> list[CareStep]:
    """Give hardening and planting out from the day that is safe, or that they keep better under glass."""
    if safe is None:
        return [a_step(StepKind.UNDER_GLASS, ready, None, TooFewWarmNights(), *only)]
    begin = max(ready, after(safe, -days))
    out = max(safe, after(begin, days))
    return [
        a_step(StepKind.HARDEN, begin, after(out, -1), *only),
        a_step(StepKind.PLANT_OUT, out, None, PlantsSafeFrom(safe, cover_until), *only),
    ]


def a_step(
    kind: StepKind, first: date, last: date | None, *reasons: Reason, ids: tuple[int, ...] = ()
) -> CareStep:
    """Make a step whose key is its kind."""
    key = str(kind).replace("_", "-")
    return CareStep(kind, key, first, last, reasons=reasons, allocation_ids=ids)


def after(day: date, days: int) -> date:
    """Give the day so many days later, or earlier for a negative number [days]."""
    return day + timedelta(days=days)
