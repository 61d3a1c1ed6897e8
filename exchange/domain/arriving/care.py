"""Care on arrival: dated steps by material, how raised, shelter and the coming nights of the place."""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import date, timedelta

from exchange.domain.arriving import course as craft
from exchange.domain.arriving.arrival import ArrivalWindow
from exchange.domain.arriving.course import Course
from exchange.domain.arriving.nights import Needs, NightStand, night_stands, runs
from exchange.domain.arriving.step import (
    BeforeSafeDate,
    CareGroup,
    CareStep,
    ColdNights,
    InsertWithin,
    NoCover,
    PlantsSafeFrom,
    RaisedInHeat,
    Reason,
    SafeDateUnknown,
    StandIn,
    StepKind,
    ThenIn,
    UsuallyCold,
)
from exchange.domain.growing.batch import Raised
from exchange.domain.growing.shelter import Shelter, ShelterKind
from exchange.domain.growing.variety import Species
from exchange.domain.posting.parcel import Line
from exchange.domain.weather.forecast import Outlook, WeatherSource

TELL_WITHIN_DAYS = 3
"""Sellers ask for word within 3 to 7 days; the shortest
(https://petalhoarders.com/pages/terms-and-conditions) [days]."""

APART_DAYS = 28
"""Keeping newcomers apart: two to four weeks, common practice, no source [days]."""

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

FLOWERING_MONTH = 8
"""The month in which names are checked in flower, by judgement."""

USUALLY_COLD_SHARE = 0.1
"""The usual weather is spoken of when so many nights are too cold, by judgement."""

_FORECAST = frozenset({WeatherSource.FORECAST, WeatherSource.BOTH})


@dataclass(frozen=True, slots=True)
class Receiving:
    """What care needs of the receiving place.

    Attributes
    ----------
    shelters : those the member told; none means indoors
    safe_date : day from which plants can stay out at night, or None when not known
    """

    shelters: tuple[Shelter, ...]
    outlook: Outlook
    safe_date: date | None = None

    @property
    def kinds(self) -> frozenset[ShelterKind]:
        """The kinds of shelter there are."""
        return frozenset(shelter.kind for shelter in self.shelters)


def care_steps(lines: Iterable[Line], window: ArrivalWindow, at: Receiving) -> tuple[CareStep, ...]:
    """
    Give the dated steps of care for what is in a parcel.

    Parameters
    ----------
    lines : what is in the parcel
    window : the days on which it is expected, or the day it came
    at : the place that receives it

    Returns
    -------
    tuple of CareStep
        In order of day, then of doing; each key once.
    """
    all_courses = craft.courses(lines)
    if not all_courses:
        return ()
    steps = list(_for_all(all_courses, window))
    for course in all_courses:
        steps += [
            replace(
                step,
                key=f"{step.key}-{course.key}",
                group=course.group,
                raised=course.raised if course.group is CareGroup.GREEN else None,
                allocation_ids=course.allocation_ids,
            )
            for step in _for_course(course, window, at)
        ]
    order = {kind: place for place, kind in enumerate(StepKind)}
    return tuple(sorted(steps, key=lambda step: (step.first, order[step.kind], step.key)))


def nights_ahead(
    lines: Iterable[Line], window: ArrivalWindow, at: Receiving
) -> tuple[NightStand, ...]:
    """Give each forecast night after arrival once, with the stand the tenderest plants need."""
    by_day: dict[date, NightStand] = {}
    for course in craft.courses(lines):
        for night in _nights(course, window, at):
            if night.source not in _FORECAST:
                continue
            known = by_day.get(night.day)
            if known is None or (night.too_cold, night.limit_c) > (known.too_cold, known.limit_c):
                by_day[night.day] = night
    return tuple(by_day[day] for day in sorted(by_day))


def _for_all(all_courses: tuple[Course, ...], window: ArrivalWindow) -> Iterable[CareStep]:
    ids = tuple(sorted(i for course in all_courses for i in course.allocation_ids))
    yield _step(StepKind.OPEN, window.first, window.last, ids=ids)
    yield _step(StepKind.CHECK, window.first, _after(window.last, TELL_WITHIN_DAYS - 1), ids=ids)
    growing = [course for course in all_courses if course.group is not CareGroup.SEED]
    if growing:
        named = tuple(sorted(i for course in growing for i in course.allocation_ids))
        yield _step(StepKind.APART, window.first, _after(window.last, APART_DAYS), ids=named)
        august = date(window.last.year, FLOWERING_MONTH, 1)
        if window.last >= august:
            august = august.replace(year=august.year + 1)
        yield _step(StepKind.TRUE_TO_NAME, august, august.replace(day=31), ids=named)


def _for_course(course: Course, window: ArrivalWindow, at: Receiving) -> list[CareStep]:
    steps = {
        CareGroup.UNROOTED: _unrooted,
        CareGroup.GREEN: _green,
        CareGroup.STOOL: _green,
        CareGroup.RESTING: _resting,
        CareGroup.SEED: _seed,
    }[course.group](course, window, at)
    return [*steps, *_cold_nights(course, window, at)]


def _green(course: Course, window: ArrivalWindow, at: Receiving) -> list[CareStep]:
    heat: tuple[Reason, ...] = (RaisedInHeat(),) if course.raised is Raised.IN_HEAT else ()
    wanted = craft.needs(course, window, at.kinds)
    steps = [
        _step(StepKind.POT_UP, window.first, window.last),
        _step(StepKind.SHADE, window.first, _after(window.last, craft.SHADE_DAYS[course.raised])),
        _first_nights(course, window, at, wanted, heat),
    ]
    return [*steps, *_outdoors(course, window, at, wanted.settled_on)]


def _unrooted(course: Course, window: ArrivalWindow, at: Receiving) -> list[CareStep]:
    soonest, latest = course.rooting_days
    uncovered: tuple[Reason, ...] = ()
    if Species.PELARGONIUM in course.species:
        uncovered = (NoCover(all_of_them=len(course.species) == 1),)
    hours = min(craft.INSERT_HOURS[kind] for kind in course.species)
    wanted = craft.needs(course, window, at.kinds)
    rooted = _after(window.last, latest)
    steps = [
        _step(StepKind.INSERT, window.first, window.last, InsertWithin(hours), *uncovered),
        _step(StepKind.SHADE, window.first, _after(window.last, soonest), *uncovered),
        _first_nights(course, window, at, wanted, ()),
        _step(StepKind.POT_ROOTED, _after(window.first, soonest), rooted),
    ]
    return [*steps, *_outdoors(course, window, at, _after(rooted, AFTER_ROOTING_DAYS))]


def _resting(course: Course, window: ArrivalWindow, at: Receiving) -> list[CareStep]:
    safe = craft.safe_date_for(window, at.safe_date)
    cool = craft.needs(course, window, at.kinds).settled_in
    if safe is not None and window.last >= _after(safe, -STRAIGHT_OUT_DAYS):
        until = _after(window.last, PLANT_WITHIN_DAYS)
        why: Reason = BeforeSafeDate(safe) if window.first < safe else PlantsSafeFrom(safe)
        return [
            _step(StepKind.KEEP_COOL, window.first, until, cool),
            _step(StepKind.PLANT_OUT, window.first, until, why),
        ]
    start = window.first
    if safe is not None:
        start = max(start, _after(safe, -START_BEFORE_SAFE_DAYS))
    steps = [_step(StepKind.START, start, _after(max(start, window.last), PLANT_WITHIN_DAYS))]
    if start > window.last:
        steps.append(_step(StepKind.KEEP_COOL, window.first, start, cool))
    shoots_ready = _after(max(start, window.last), 2 * PLANT_WITHIN_DAYS)
    return [*steps, *_outdoors(course, window, at, shoots_ready)]


def _seed(course: Course, window: ArrivalWindow, at: Receiving) -> list[CareStep]:
    cool = craft.needs(course, window, at.kinds).settled_in
    return [_step(StepKind.KEEP_COOL, window.first, None, cool)]


def _first_nights(
    course: Course, window: ArrivalWindow, at: Receiving, wanted: Needs, why: tuple[Reason, ...]
) -> CareStep:
    reasons: list[Reason] = [*why, wanted.settling_in]
    if wanted.settled_in.shelter is not wanted.settling_in.shelter:
        reasons.append(ThenIn(wanted.settled_in.shelter))
    usual = [night for night in _nights(course, window, at) if night.source not in _FORECAST]
    later = [night for night in usual if night.day >= wanted.settled_on]
    share = sum(night.too_cold for night in later) / len(later) if later else 0.0
    if share >= USUALLY_COLD_SHARE:
        reasons.append(UsuallyCold(share, wanted.settled_in.shelter))
    last = _after(wanted.settled_on, -1)
    return _step(StepKind.FIRST_NIGHTS, window.first, last, *reasons)


def _cold_nights(course: Course, window: ArrivalWindow, at: Receiving) -> list[CareStep]:
    cold = [
        night
        for night in _nights(course, window, at)
        if night.too_cold and night.source in _FORECAST
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


def _nights(course: Course, window: ArrivalWindow, at: Receiving) -> tuple[NightStand, ...]:
    wanted = craft.needs(course, window, at.kinds)
    safe = craft.safe_date_for(window, at.safe_date)
    until = max(date.max if safe is None else safe, wanted.settled_on)
    return night_stands(at.outlook, window.first, until, wanted, at.kinds)


def _outdoors(course: Course, window: ArrivalWindow, at: Receiving, ready: date) -> list[CareStep]:
    days = craft.HARDEN_DAYS[course.raised]
    safe = craft.safe_date_for(window, at.safe_date)
    if safe is None:
        return [_step(StepKind.PLANT_OUT, _after(ready, days), None, SafeDateUnknown())]
    begin = max(ready, _after(safe, -days))
    out = max(safe, _after(begin, days))
    return [
        _step(StepKind.HARDEN, begin, _after(out, -1)),
        _step(StepKind.PLANT_OUT, out, None, PlantsSafeFrom(safe)),
    ]


def _step(
    kind: StepKind, first: date, last: date | None, *reasons: Reason, ids: tuple[int, ...] = ()
) -> CareStep:
    key = str(kind).replace("_", "-")
    return CareStep(kind, key, first, last, reasons=reasons, allocation_ids=ids)


def _after(day: date, days: int) -> date:
    return day + timedelta(days=days)
