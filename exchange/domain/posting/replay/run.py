"""The whole replay: past springs, every rule, ours at many prices of waiting, and the bound."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date

import numpy as np

from exchange.domain.posting.replay.bound import WaitingBound, bound
from exchange.domain.posting.replay.ours import (
    newest_alone,
    one_step_rule,
    pairs_of,
    rule_at,
    standing,
)
from exchange.domain.posting.replay.process import PARCELS_A_SPRING, forecasts, parcels
from exchange.domain.posting.replay.rules import FORESIGHT, RuleTally, others, tally
from exchange.domain.posting.replay.springs import past_springs
from exchange.domain.posting.replay.value import draw, fit

Progress = Callable[[str, int, int], None]
"""Called with the stage, how much of it is done, and of how much."""

PRICES = (1.0, 0.3, 0.15, 0.08, 0.05, 0.03, 0.02, 0.01, 0.005, 0.002, 0.001, 0.0003, 0.0001)
"""Prices of a day's waiting that are tried [frosted nights]."""
BOUND_PRICES = (0.15, 0.05, 0.02, 0.005)
"""Prices at which the bound is worked out, a part of PRICES."""


@dataclass(frozen=True, slots=True)
class RuleComparison:
    """A rule beside ours at that rule's own mean wait.

    Attributes
    ----------
    ours : frosted nights of our rule in 100 parcels, None where no price gives so short a wait
    share : ours over the rule's, None where either is missing or the rule had none
    least : bound of the dynamic program, in the process as drawn; None for foresight, which no
        rule has
    """

    rule: RuleTally
    ours: float | None
    share: float | None
    least: float | None


@dataclass(frozen=True, slots=True)
class Replay:
    """What a replay found.

    Attributes
    ----------
    names, years : of the files and springs
    parcels : how many were sent by every rule
    rules : other rules beside ours
    ours : our rule by price, the dearest first
    plain : one step ahead from the newest forecast alone, by price
    bounds : bound and our rule in the drawn process, by price
    """

    names: tuple[str, ...]
    years: tuple[int, ...]
    parcels: int
    rules: tuple[RuleComparison, ...]
    ours: tuple[RuleTally, ...]
    plain: tuple[RuleTally, ...]
    bounds: tuple[WaitingBound, ...]


def replay(
    series: Mapping[str, Mapping[date, float]],
    chance: np.random.Generator,
    count: int = PARCELS_A_SPRING,
    progress: Progress = lambda _stage, _done, _of: None,
) -> Replay:
    """Try every rule on past springs.

    Parameters
    ----------
    series : name of the file -> day -> minimum [degrees C]
    chance : of all draws
    count : parcels a spring

    Raises
    ------
    NoSpringsError
        when the files have too few springs in common
    """
    springs = past_springs(series)
    errors, chosen, futures, hindsight = chance.spawn(4)
    drawn, sent = forecasts(springs, errors), parcels(springs, chosen, count)
    told = others(springs, drawn)
    tallies: list[RuleTally] = []
    for name, rule in told.items():
        progress("other rules", len(tallies), len(told))
        tallies.append(tally(springs, sent, name, rule))
    pairs = pairs_of(springs)
    paths, stood = draw(pairs, futures), standing(springs, drawn, pairs)
    newest = newest_alone(springs, drawn, pairs)
    ours, plain, bounds = [], [], []
    for done, price in enumerate(PRICES):
        progress("our rule", done, len(PRICES))
        worth = fit(pairs, paths, price)
        ours.append(tally(springs, sent, f"ours at {price:g}", rule_at(stood, worth)))
        simple = one_step_rule(newest, price)
        plain.append(tally(springs, sent, f"one step at {price:g}", simple))
        if price in BOUND_PRICES:
            progress("bound", done, len(PRICES))
            bounds.append(bound(pairs, worth, hindsight))
    progress("our rule", len(PRICES), len(PRICES))
    compared = tuple(_beside(one, ours, bounds) for one in tallies)
    return Replay(
        springs.names, springs.years, len(sent), compared, tuple(ours), tuple(plain), tuple(bounds)
    )


def at_wait(tallies: Sequence[RuleTally], wait: float) -> float | None:
    """Give the frosted nights at a mean wait, on straight lines between the prices tried.

    A longer wait than any tried gives the figure of the longest.
    """
    ranked = sorted(tallies, key=lambda one: one.wait)
    if not ranked or wait < ranked[0].wait:
        return None
    waits, nights = [one.wait for one in ranked], [one.frosted for one in ranked]
    return float(np.interp(wait, waits, nights))


def least_at(bounds: Sequence[WaitingBound], wait: float) -> float:
    """Give the bound on frosted nights in 100 parcels at a mean wait."""
    return max((100 * (one.least - one.price * wait) for one in bounds), default=0.0)


def _beside(
    one: RuleTally, ours: Sequence[RuleTally], bounds: Sequence[WaitingBound]
) -> RuleComparison:
    same = at_wait(ours, one.wait)
    if one.name == FORESIGHT:
        return RuleComparison(one, same, None, None)
    share = same / one.frosted if same is not None and one.frosted > 0 else None
    return RuleComparison(one, same, share, max(0.0, least_at(bounds, one.wait)))
