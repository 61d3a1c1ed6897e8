"""Care on arrival: dated steps by material, how raised, shelter and the coming nights of the place."""

from collections.abc import Iterable
from dataclasses import replace
from datetime import date

from exchange.domain.arriving import course as craft
from exchange.domain.arriving.arrival import ArrivalWindow
from exchange.domain.arriving.by_group import steps_for
from exchange.domain.arriving.course import CareCourse
from exchange.domain.arriving.nights import NightPlacement
from exchange.domain.arriving.receiving import FROM_FORECAST, Receiving, nights_of
from exchange.domain.arriving.step import (
    CareGroup,
    CareStep,
    Holds,
    NextYear,
    StepKind,
    a_step,
    after,
)
from exchange.domain.posting.parcel import Line

__all__ = ["Receiving", "care_steps", "nights_ahead"]

TELL_WITHIN_DAYS = 3
"""Sellers ask to be told within 3 to 7 days; this is the shortest
(https://petalhoarders.com/pages/terms-and-conditions) [days]."""

APART_DAYS = 28
"""Keeping newcomers apart: two to four weeks, common practice, no source [days]."""

FLOWERING_MONTH = 8
"""The month in which names are checked in flower, by judgement."""


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
            for step in steps_for(course, window, at)
        ]
    order = {kind: place for place, kind in enumerate(StepKind)}
    in_order = sorted(steps, key=lambda step: (step.first, order[step.kind], step.key))
    return tuple(_with_year(step, window) for step in in_order)


def from_day(steps: Iterable[CareStep], today: date) -> tuple[CareStep, ...]:
    """Give what is still to be done: nothing that is over, and nothing dated before today."""
    return tuple(
        replace(step, first=max(step.first, today))
        for step in steps
        if step.last is None or step.last >= today
    )


def _with_year(step: CareStep, window: ArrivalWindow) -> CareStep:
    later = (step.last or step.first).year > window.last.year
    return replace(step, reasons=(*step.reasons, NextYear())) if later else step


def nights_ahead(
    lines: Iterable[Line], window: ArrivalWindow, at: Receiving
) -> tuple[NightPlacement, ...]:
    """Give each forecast night after arrival once, with the stand the tenderest plants need."""
    by_day: dict[date, NightPlacement] = {}
    for course in craft.courses(lines):
        for night in nights_of(course, window, at):
            if night.source not in FROM_FORECAST:
                continue
            known = by_day.get(night.day)
            if known is None or (night.too_cold, night.limit_c) > (known.too_cold, known.limit_c):
                by_day[night.day] = night
    return tuple(by_day[day] for day in sorted(by_day))


def _for_all(all_courses: tuple[CareCourse, ...], window: ArrivalWindow) -> Iterable[CareStep]:
    ids = tuple(sorted(i for course in all_courses for i in course.allocation_ids))
    holds = Holds(frozenset(course.group for course in all_courses))
    yield a_step(StepKind.OPEN, window.first, window.last, holds, ids=ids)
    yield a_step(StepKind.CHECK, window.first, after(window.last, TELL_WITHIN_DAYS - 1), ids=ids)
    growing = [course for course in all_courses if course.group is not CareGroup.SEED]
    if growing:
        named = tuple(sorted(i for course in growing for i in course.allocation_ids))
        apart = Holds(frozenset(course.group for course in growing))
        yield a_step(StepKind.APART, window.first, after(window.last, APART_DAYS), apart, ids=named)
        august = date(window.last.year, FLOWERING_MONTH, 1)
        if window.last >= august:
            august = august.replace(year=august.year + 1)
        yield a_step(StepKind.TRUE_TO_NAME, august, august.replace(day=31), ids=named)
