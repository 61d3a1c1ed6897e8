"""An announced day stands: when a day is announced, and what may move it afterwards.

A parcel's day is announced once, a few days ahead and by the evening before; until then members are told of
"about the week of". Once announced it is held against every new forecast, unless something stops it, its
loss grows far, or another day is safer by much; a day chosen by a person is moved only by that person.

All of it is in plain numbers and asks no records. Days are counted from today: 0 is today. For one parcel
on one day, in this order:

    free = free_days(told, weighed, rule)    # the days that may be taken today
    ahead = the cheapest of the free days that are good enough, or None
    verdict = judge(told, weighed, ahead, rule)
    told = verdict.told                      # what is announced from now on, None for nothing

and on the next day `told` is one day nearer (`nearer(told)`); it goes on the day on which `told.ahead` is 0
and the verdict leaves it there.
"""

import math
from dataclasses import dataclass, replace
from datetime import date, timedelta
from enum import StrEnum

import numpy as np
from numpy.typing import NDArray

LAST_HOUR = 19
"""From this hour of the sender's evening on nothing is announced for the next day any more [h]."""


class Ground(StrEnum):
    """Why an announced day may be left."""

    STOPPED = "stopped"
    RISKIER = "riskier"
    SAFER = "safer"


class DayOutcome(StrEnum):
    """What becomes of a parcel's day."""

    NO_DAY = "no day"
    ABOUT = "about"
    ANNOUNCED = "announced"
    STANDS = "stands"
    MOVED = "moved"
    WITHDRAWN = "withdrawn"
    ASKED = "asked"


@dataclass(frozen=True, slots=True)
class AnnouncingRule:
    """How announced days are kept; the circle's own is `PostingTerms.announcing`.

    Attributes
    ----------
    days : at most so long before posting a day is announced [d]
    held : an announced day is held until its loss passes so many times the limit
    gain : least fall of the loss for which another day is taken [chance for the line most in danger]
    """

    days: int
    held: float
    gain: float


@dataclass(frozen=True, slots=True)
class Told:
    """A day that was announced.

    Attributes
    ----------
    ahead : days from today [d]
    loss : chance of loss of the line most in danger as it was announced; not a number where none was told
    by_person : whether a person chose it
    """

    ahead: int
    loss: float
    by_person: bool = False


@dataclass(frozen=True, slots=True)
class WeighedDays:
    """The coming days of one parcel as they are weighed today.

    Attributes
    ----------
    losses : by days from today, the chance of loss of the line most in danger; not a number where unknown
    stopped : by days from today, whether something but the weather stops it
    limit : chance of loss above which it waits
    earliest : first day that can still be announced: 1, or 2 once the evening is over [d]
    less_known : whether less is known of the weather than when the day was last weighed: a source is
        missing, older, or tells fewer nights
    """

    losses: NDArray[np.float64]
    stopped: NDArray[np.bool_]
    limit: float
    earliest: int = 1
    less_known: bool = False


@dataclass(frozen=True, slots=True)
class Verdict:
    """What becomes of a parcel's day today.

    Attributes
    ----------
    told : the day announced from now on, None for none
    ahead : the day planned: announced, or only meant so far; for ASKED the day proposed [d]
    ground : why an announced day is left, or should be
    """

    outcome: DayOutcome
    told: Told | None = None
    ahead: int | None = None
    ground: Ground | None = None


def free_days(told: Told | None, weighed: WeighedDays, rule: AnnouncingRule) -> NDArray[np.bool_]:
    """Say which days may be taken today: the announced one while it is held, and any worth moving to.

    Returns
    -------
    by days from today; whether a day is good enough is not looked at
    """
    days = np.arange(len(weighed.losses))
    free: NDArray[np.bool_] = (days >= weighed.earliest) & ~weighed.stopped
    if told is None:
        return free
    ground = _to_leave(told, weighed, rule)
    if ground is not None:
        free[days == told.ahead] = False
        return free
    now = _loss(told, weighed)
    safer = [not weighed.less_known and is_safer(float(one), now, rule) for one in weighed.losses]
    free &= np.array(safer, dtype=np.bool_)
    free[days == told.ahead] = True
    return free


def judge(
    told: Told | None, weighed: WeighedDays, ahead: int | None, rule: AnnouncingRule
) -> Verdict:
    """Say what becomes of a parcel's day.

    Parameters
    ----------
    ahead : the day chosen among the free days, None where none is good enough [d]
    """
    fresh = _announced(weighed, ahead, rule)
    if told is None:
        if ahead is None:
            return Verdict(DayOutcome.NO_DAY)
        return Verdict(DayOutcome.ANNOUNCED if fresh else DayOutcome.ABOUT, fresh, ahead)
    ground = _to_leave(told, weighed, rule)
    if ground is None and ahead in (None, told.ahead):
        return Verdict(DayOutcome.STANDS, told, told.ahead)
    ground = ground or Ground.SAFER
    if told.by_person:
        return Verdict(DayOutcome.ASKED, told, ahead, ground)
    return Verdict(DayOutcome.MOVED if fresh else DayOutcome.WITHDRAWN, fresh, ahead, ground)


def nearer(told: Told | None) -> Told | None:
    """Give what was announced as it stands a day later."""
    return None if told is None else replace(told, ahead=told.ahead - 1)


def is_announced(ahead: int, earliest: int, rule: AnnouncingRule) -> bool:
    """Say whether a day is near enough to be announced, and not too near [d]."""
    return earliest <= ahead <= rule.days


def earliest_ahead(hour: int) -> int:
    """Give the first day that can still be announced at an hour of the sender's day [h -> d]."""
    return 1 if hour < LAST_HOUR else 2


def week_of(day: date) -> date:
    """Give the Monday by which a day is named that is not announced yet."""
    return day - timedelta(days=day.weekday())


def is_too_risky(now: float, told: float, limit: float, rule: AnnouncingRule) -> bool:
    """Say whether the loss of an announced day has grown too far [chance].

    A day announced over the limit, because none was better, is held to its own loss.

    Parameters
    ----------
    now, told : as it is weighed today, and as it was announced; either may be not a number
    """
    before = 0.0 if math.isnan(told) else told
    return now > rule.held * max(limit, before) and not prints_alike(now, told)


def is_safer(other: float, now: float, rule: AnnouncingRule) -> bool:
    """Say whether another day is safer than the announced one by enough to take it [chance]."""
    return now - other >= rule.gain and not prints_alike(now, other)


def prints_alike(one: float, other: float) -> bool:
    """Say whether two chances read the same once they are rounded to so many in 100."""
    return _in_hundred(one) == _in_hundred(other)


def _in_hundred(chance: float) -> int | None:
    # A figure of 0 reads "fewer than 1", one of 100 "over 99": each is its own.
    return None if math.isnan(chance) else round(100 * chance)


def _loss(told: Told, weighed: WeighedDays) -> float:
    inside = 0 <= told.ahead < len(weighed.losses)
    return float(weighed.losses[told.ahead]) if inside else math.nan


def _to_leave(told: Told, weighed: WeighedDays, rule: AnnouncingRule) -> Ground | None:
    inside = 0 <= told.ahead < len(weighed.losses)
    if not inside or weighed.stopped[told.ahead]:
        return Ground.STOPPED
    if weighed.less_known:
        return None
    over = is_too_risky(_loss(told, weighed), told.loss, weighed.limit, rule)
    return Ground.RISKIER if over else None


def _announced(weighed: WeighedDays, ahead: int | None, rule: AnnouncingRule) -> Told | None:
    if ahead is None or not is_announced(ahead, weighed.earliest, rule):
        return None
    return Told(ahead, float(weighed.losses[ahead]))
