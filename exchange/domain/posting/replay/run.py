"""The whole replay: both processes, the planner's rule at many prices of waiting, rules of thumb beside it."""

from collections.abc import Callable, Mapping, Sequence
from datetime import date
from functools import partial
from typing import NamedTuple

import numpy as np

from exchange.domain.posting.replay import losses, rules
from exchange.domain.posting.replay.process import Process, forecasts
from exchange.domain.posting.replay.springs import Array, past_springs
from exchange.domain.posting.transit import SUNDAY

Progress = Callable[[Process, int, int], None]
"""Called with the process, how much of its work is done, and of how much."""

PRICES = (0.03, 0.01, 0.005, 0.002, 0.0005, 0.0001)
MARGINS_C = tuple(step / 4 for step in range(-20, 33))
"""Prices of a day's waiting, the planner's own among them, and margins of the rules of thumb [plants, degrees C]."""


class RuleTally(NamedTuple):
    """What a rule came to; all but the first two in 100 parcels of one plant.

    Attributes
    ----------
    at, wait : the price of a day's waiting, or the margin [plants, degrees C]; mean wait [d]
    lost, least, most : plants lost, by the post's odds in the weather that came; in the best and worst of ten springs
    frosted : nights at or below 0 C on the way
    over_sunday : parcels in the post on a Sunday
    forced : went over the limit after the longest wait, or because they could wait no longer
    moves, moved, moved_twice : moves of announced days; parcels moved at least once, at least twice
    """

    at: float
    wait: float
    lost: float
    least: float
    most: float
    frosted: float
    over_sunday: float
    forced: float
    moves: float
    moved: float
    moved_twice: float


class RuleReplay(NamedTuple):
    """The rules on one material by one process: the planner's by price, each rule of thumb by margin."""

    process: Process
    material: str
    ours: tuple[RuleTally, ...]
    thumbs: Mapping[str, tuple[RuleTally, ...]]

    @property
    def practised(self) -> RuleTally:
        """The planner's rule at its own price."""
        return next(one for one in self.ours if one.at == losses.TERMS.waiting_price)

    @property
    def beside(self) -> Mapping[str, RuleTally]:
        """Each rule of thumb with its margin tuned until it waits as long as the planner's."""
        return {rule: at_wait(each, self.practised.wait) for rule, each in self.thumbs.items()}

    @property
    def share(self) -> float:
        """Plants lost as practised over those of the best of `beside`; infinite where it lost none."""
        best = min(one.lost for one in self.beside.values())
        return self.practised.lost / best if best > 0 else float("inf")


class Replay(NamedTuple):
    """What a replay found, by process and material; every rule sent as many parcels."""

    names: tuple[str, ...]
    years: tuple[int, ...]
    parcels: int
    found: tuple[RuleReplay, ...]


def replay(
    series: Mapping[str, Mapping[date, float]],
    apart_km: Array,
    chance: np.random.Generator,
    progress: Progress = lambda _process, _done, _of: None,
) -> Replay:
    """Try every rule on past springs.

    Parameters
    ----------
    series : name of the file -> day -> minimum [degrees C]
    apart_km : distances of the files, in their order (files, files) [km]
    chance : of the errors of the forecasts

    Raises
    ------
    NoSpringsError
        when the files have too few springs in common
    """
    springs = past_springs(series)
    lost, frosts = losses.true_losses(springs), losses.true_frosts(springs)
    found: list[RuleReplay] = []
    for process, errors in zip(Process, chance.spawn(len(Process)), strict=True):
        drawn = forecasts(springs, process, apart_km, errors)
        weighed = losses.weighed_losses(springs, drawn, partial(progress, process))
        for kind, (name, (_, material, _)) in enumerate(losses.STOCK.items()):
            sent = rules.parcels(springs, losses.TERMS.posting_days[material].quick)
            add_up = partial(tally, sent, (lost[:, :, kind], frosts))
            by_price = [add_up(rules.ours(sent, weighed[..., kind, :], one), one) for one in PRICES]
            by_margin = {}
            for rule in rules.THUMBS:
                lowest = rules.coldest(sent, drawn, rule)
                by_margin[rule] = tuple(
                    add_up(rules.thumb(sent, lowest, one), one) for one in MARGINS_C
                )
            found.append(RuleReplay(process, name, tuple(by_price), by_margin))
    return Replay(springs.names, tuple(dict.fromkeys(springs.years)), len(sent.ready), tuple(found))


def tally(
    sent: rules.Parcels, came: tuple[Array, Array], done: rules.Practised, at: float
) -> RuleTally:
    """Add up what a rule came to, from the plants lost and frosted nights (springs, pairs, days)."""
    lost, frosted = (each[sent.spring, sent.pair, done.posted] for each in came)
    year = np.array(sent.springs.years)[sent.spring]
    by_spring = [lost[year == one].mean() for one in np.unique(year)]
    on, odds = sent.weekday(done.posted), losses.odds()
    on_sunday = np.array([odds[day, SUNDAY - day + 1 :].sum() for day in range(7)])[on]
    counted = (frosted, on_sunday, done.forced, done.moves, done.moves > 0, done.moves > 1)
    figures = [lost.mean(), *np.quantile(by_spring, (0.1, 0.9)), *(each.mean() for each in counted)]
    wait = float((done.posted - sent.ready).mean())
    return RuleTally(at, wait, *(100 * float(each) for each in figures))


def at_wait(tallies: Sequence[RuleTally], wait: float) -> RuleTally:
    """Give a rule tuned until it waits so long, on straight lines between the figures tried [d]."""
    waits = [one.wait for one in tallies]
    return RuleTally(*(float(np.interp(wait, waits, each)) for each in zip(*tallies, strict=True)))
