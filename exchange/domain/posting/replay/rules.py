"""Posting rules to compare: what others do, and ours."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from exchange.domain.posting.replay.process import (
    MOST_WAIT,
    SUNDAY,
    ParcelOutcome,
    ReplayParcel,
    outcome,
    weekday,
)
from exchange.domain.posting.replay.springs import Springs

Array = NDArray[np.float64]
Rule = Callable[[ReplayParcel, int, int], bool]
"""Says of a parcel, a day of the axis and its weekday whether to post."""

MARGINS_C = (0.0, 1.0, 2.0)
LOOKED_AT = 3
"""Nights that the rule of thumb looks at in the forecast."""
WEDNESDAY = 2
FORESIGHT = "perfect foresight"


@dataclass(frozen=True, slots=True)
class RuleTally:
    """What a rule came to.

    Attributes
    ----------
    name : key of the rule
    wait : mean [d]
    frosted, over_sunday : in 100 parcels
    forced : parcels posted only because they could wait no longer
    """

    name: str
    wait: float
    frosted: float
    over_sunday: float
    forced: int


def tally(springs: Springs, sent: Sequence[ReplayParcel], name: str, rule: Rule) -> RuleTally:
    """Run a rule over all parcels."""
    waits, outcomes, forced = [], [], 0
    for one in sent:
        day, pressed = _posted(springs, one, rule)
        waits.append(day - one.ready)
        outcomes.append(outcome(springs, one, day))
        forced += pressed
    return RuleTally(
        name,
        float(np.mean(waits)),
        _in_hundred([each.frosted for each in outcomes]),
        _in_hundred([each.over_sunday for each in outcomes]),
        forced,
    )


def _in_hundred(counts: Sequence[int]) -> float:
    return 100 * float(np.mean(counts))


def _posted(springs: Springs, one: ReplayParcel, rule: Rule) -> tuple[int, bool]:
    for day in range(one.ready, one.ready + MOST_WAIT):
        on = weekday(springs, one.spring, day)
        if on != SUNDAY and rule(one, day, on):
            return day, False
    day = one.ready + MOST_WAIT
    return day + (weekday(springs, one.spring, day) == SUNDAY), True


def others(springs: Springs, drawn: Array) -> Mapping[str, Rule]:
    """Give the rules of others by key, the simplest first."""
    rules: dict[str, Rule] = {
        "at once": lambda _one, _day, _on: True,
        "Mondays": lambda _one, _day, on: on == 0,
        "Monday to Wednesday": lambda _one, _day, on: on <= WEDNESDAY,
    }
    for margin in MARGINS_C:
        rules[f"no frost forecast, margin {margin:g}"] = _no_frost_forecast(drawn, margin)
    for name, share in (("median last frost", 0.5), ("last frost, 1 spring in 10", 0.9)):
        rules[name] = _last_frost(springs, share)
    rules[FORESIGHT] = _foresight(springs)
    return rules


def _no_frost_forecast(drawn: Array, margin: float) -> Rule:
    lowest = drawn[..., :LOOKED_AT].min(axis=-1)

    def rule(one: ReplayParcel, day: int, _on: int) -> bool:
        here, there = lowest[one.sender, one.spring, day], lowest[one.receiver, one.spring, day]
        return bool(min(here, there) > margin)

    return rule


def _last_frost(springs: Springs, share: float) -> Rule:
    """Wait for the date after which a frost came in `1 - share` of the springs, at both ends."""
    frost = springs.lows <= 0
    last = np.where(frost.any(axis=2), frost.shape[2] - frost[:, :, ::-1].argmax(axis=2), 0)
    dates = np.quantile(last, share, axis=1)

    def rule(one: ReplayParcel, day: int, _on: int) -> bool:
        return bool(day >= max(dates[one.sender], dates[one.receiver]))

    return rule


def _foresight(springs: Springs) -> Rule:
    def rule(one: ReplayParcel, day: int, _on: int) -> bool:
        known: ParcelOutcome = outcome(springs, one, day)
        return known.frosted == 0

    return rule
