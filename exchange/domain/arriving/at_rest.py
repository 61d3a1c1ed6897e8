"""Tubers, roots and stools: kept cool, started into growth, cut from, or planted straight out."""

from collections.abc import Mapping
from datetime import date
from types import MappingProxyType

from exchange.domain.arriving import course as craft
from exchange.domain.arriving.arrival import ArrivalWindow
from exchange.domain.arriving.course import CareCourse
from exchange.domain.arriving.outdoors import outdoors
from exchange.domain.arriving.receiving import Receiving
from exchange.domain.arriving.step import (
    BeforeSafeDate,
    CareGroup,
    CareStep,
    HollowUp,
    InWarmth,
    PlantsSafeFrom,
    Reason,
    StepKind,
    a_step,
    after,
)
from exchange.domain.growing.batch import Material
from exchange.domain.growing.shelter import HOLDS_C, ShelterKind
from exchange.domain.growing.variety import BEGONIAS

START_BEFORE_SAFE_DAYS = 70
"""From waking to planting out 10 to 12 weeks
(https://fraylick.com/a-little-flower-therapy/category/Growing%20Dahlias) [days]."""

WARM_START_DAYS = 84
"""The same where there is warmth for them, the twelve weeks [days]."""

CUTTINGS_START_DAYS = 119
"""How long before planting out tubers are woken in a propagator or heated house to take cuttings from: shoots,
rooting, the pot and hardening, and four weeks for a second round (judgement) [days]."""

COLD_START_DAYS = 56
"""In a house without any heat they start so long before planting out, in April for most (judgement) [days]."""

NOT_BEFORE = (1, 15)
"""Month and day before which no tuber is woken: those woken in autumn sprout poorly (Konishi and Inaba 1967,
jjshs 36:131); the day is judgement."""

STRAIGHT_OUT_DAYS = 21
"""Resting tubers that come so shortly before the safe date go straight into the ground, by judgement
(mid-April where late May is safe, if shoots are covered, is what one society says) [days]."""

PLANT_WITHIN_DAYS = 14
"""A fortnight to start or plant resting tubers, by judgement [days]."""

SHOOTS_IN_DAYS: Mapping[bool, int] = MappingProxyType({True: 24, False: 42})
"""From waking to shoots of 7 to 10 cm, in warmth (24 days at 18 degrees C, derived from 300 degree days over 5.5) and
without (judgement) [days]."""

STOOL_SHOOTS_IN_DAYS = 28
"""From potting to shoots on chrysanthemum stools: three to five weeks, common practice, no source [days]."""

LAST_CUTTINGS = (6, 20)
"""Month and day after which a cutting makes no tuber that keeps, even in a small pot (judgement)."""

STOOL_LAST_CUTTINGS = (4, 30)
"""The same for chrysanthemum stools (common practice, no source)."""

CUT_FROM = frozenset({Material.POT_TUBER, Material.CLUMP, Material.STOOL})
"""What cuttings are taken from; a division is grown on (common practice, no source)."""


def at_rest(course: CareCourse, window: ArrivalWindow, at: Receiving) -> list[CareStep]:
    """Give the steps of tubers and roots: started in pots, or straight into the ground near the safe date."""
    safe = at.out_from(course.species, window)
    to_start = bool(course.species & BEGONIAS)
    if safe is not None and not to_start and window.last >= after(safe, -STRAIGHT_OUT_DAYS):
        why: Reason = BeforeSafeDate(safe) if window.first < safe else PlantsSafeFrom(safe)
        until = after(window.last, PLANT_WITHIN_DAYS)
        return [a_step(StepKind.PLANT_OUT, window.first, until, why)]
    warm = _has_warmth(at)
    start = window.first if safe is None else max(window.first, _start(course, safe, at))
    until = after(max(start, window.last), PLANT_WITHIN_DAYS)
    steps = [a_step(StepKind.START, start, until, *_how(course, warm=warm))]
    if start > window.last:
        cool = craft.needs(course, window, at.kinds).settled_in
        steps.append(a_step(StepKind.KEEP_COOL, window.first, start, cool))
    shoots = after(max(start, window.last), SHOOTS_IN_DAYS[warm])
    return [*steps, *_cuttings(course, shoots), *outdoors(course, window, at, shoots)]


def stools(course: CareCourse, window: ArrivalWindow, at: Receiving) -> list[CareStep]:
    """Give the steps of stools: potted, cut from, hardened off."""
    settled = craft.settled_on(course, window)
    stand = craft.needs(course, window, at.kinds).settled_in
    return [
        a_step(StepKind.POT_UP, window.first, window.last),
        a_step(StepKind.FIRST_NIGHTS, window.first, after(settled, -1), stand),
        *_cuttings(course, after(window.last, STOOL_SHOOTS_IN_DAYS)),
        *outdoors(course, window, at, settled),
    ]


def _has_warmth(at: Receiving) -> bool:
    """Say whether the place has warmth for tubers; of one that said nothing it is a window sill."""
    kinds = at.kinds or {ShelterKind.INDOORS}
    return any(HOLDS_C[kind] >= craft.WARM_C for kind in kinds)


def _start(course: CareCourse, safe: date, at: Receiving) -> date:
    """Give the day on which to wake them, by the warmth there is and whether cuttings are to be had of them."""
    days = START_BEFORE_SAFE_DAYS if ShelterKind.FROST_FREE in at.kinds else COLD_START_DAYS
    if _has_warmth(at):
        heated = at.kinds & {ShelterKind.PROPAGATOR, ShelterKind.HEATED}
        days = CUTTINGS_START_DAYS if heated and _is_cut(course) else WARM_START_DAYS
    return max(after(safe, -days), date(safe.year, *NOT_BEFORE))


def _is_cut(course: CareCourse) -> bool:
    return bool(course.materials & CUT_FROM) and not course.species <= BEGONIAS


def _how(course: CareCourse, *, warm: bool) -> tuple[Reason, ...]:
    begonias = course.species & BEGONIAS
    hollow = (HollowUp(all_of_them=begonias == course.species),) if begonias else ()
    return (*((InWarmth(),) if warm else ()), *hollow)


def _cuttings(course: CareCourse, shoots: date) -> list[CareStep]:
    """Give the taking of cuttings, while those can still make plants."""
    last = STOOL_LAST_CUTTINGS if course.group is CareGroup.STOOL else LAST_CUTTINGS
    until = date(shoots.year, *last)
    if not _is_cut(course) or shoots > until:
        return []
    return [a_step(StepKind.CUTTINGS, shoots, until)]
