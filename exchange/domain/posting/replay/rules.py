"""Posting rules practised on all parcels at once: the planner's own with its announcing, and rules of thumb.

Every rule decides on the evening before, from the same issues, for the same weekdays.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from exchange.domain.posting.choose_days import MOST_LATE, PLANT, RISK
from exchange.domain.posting.circumstances import PostingTerms
from exchange.domain.posting.replay import springs as axis
from exchange.domain.posting.replay.losses import FIRST_EVENING, TERMS, WAYS_ROUND
from exchange.domain.posting.replay.springs import MOST_WAIT, Array, Springs, Whole

Yes = NDArray[np.bool_]
Told = tuple[Whole, Array]
"""Announced days as days ahead, 0 for none, and the losses they were announced with."""

THUMBS: Mapping[str, tuple[slice, slice]] = {
    "two nights": (slice(1, 3), slice(1, 3)),
    "three nights": (slice(1, 4), slice(1, 4)),
    "sender's night, receiver's next two": (slice(1, 2), slice(2, 4)),
}
"""Rules of thumb: the nights looked at at the sender's and at the receiver's, from 1 for tomorrow's."""


@dataclass(frozen=True, slots=True)
class Parcels:
    """The parcels of a replay as columns: one for each spring, pair of ends and day of readiness.

    Attributes
    ----------
    spring, pair : places on the axes of `springs` and in `WAYS_ROUND`
    ready : first day on which it may go
    open : whether it may be posted on each weekday, Monday first
    """

    springs: Springs
    spring: Whole
    pair: Whole
    ready: Whole
    open: Yes

    def weekday(self, days: Whole) -> Whole:
        """Give the weekday of a day of each, 0 = Monday."""
        return np.asarray((self.springs.weekdays[self.spring] + days.T).T % 7)

    def may_go(self, days: Whole) -> Yes:
        """Say whether each may be posted on its days (parcels, days)."""
        return np.asarray(self.open[self.weekday(days)] & (days >= self.ready[:, None]))

    def last(self) -> Whole:
        """Give the last day on which each may go; on that it goes anyway."""
        latest_first = self.ready[:, None] + np.arange(MOST_WAIT, -1, -1)
        return np.asarray(self.ready + MOST_WAIT - self.may_go(latest_first).argmax(axis=1))


def parcels(springs: Springs, weekdays: frozenset[int]) -> Parcels:
    """Lay out the parcels."""
    axes = (len(springs.years), len(WAYS_ROUND), axis.READY_WITHIN)
    spring, pair, within = (each.reshape(-1) for each in np.indices(axes))
    open_on = np.array([weekday in weekdays for weekday in range(7)])
    return Parcels(springs, spring, pair, axis.READY + within, open_on)


@dataclass(frozen=True, slots=True)
class Practised:
    """What a rule did with each parcel: the day it went, whether it had to, how often its day moved."""

    posted: Whole
    forced: Yes
    moves: Whole


def ours(sent: Parcels, weighed: Array, price: float = TERMS.waiting_price) -> Practised:
    """Practise the planner's rule and its announcing on one kind of stock, at a price of a day's waiting [plants]."""
    count, terms = len(sent.ready), replace(TERMS, waiting_price=price)
    told = np.zeros(count, dtype=np.int64), np.zeros(count)
    posted, moves = np.full(count, -1), np.zeros(count, dtype=np.int64)
    forced, last = np.zeros(count, dtype=np.bool_), sent.last()
    for waited in range(-axis.KNOWN_BEFORE, MOST_WAIT):
        evening, still_here = sent.ready + waited, posted < 0
        losses = weighed[evening - FIRST_EVENING, sent.spring, sent.pair]
        before, told = told, judged(sent, evening, losses, told, terms)
        moves += still_here & (before[0] > 0) & (told[0] != before[0])
        must = (evening + 1 == last) & (told[0] != 1)
        forced |= still_here & (must | ((told[0] == 1) & (told[1] > terms.loss_limit)))
        posted = np.where(still_here & (must | (told[0] == 1)), evening + 1, posted)
        told = np.maximum(told[0] - 1, 0), told[1]
    return Practised(posted, forced, moves)


def judged(
    sent: Parcels, evening: Whole, losses: Array, announced: Told, terms: PostingTerms
) -> Told:
    """Judge the announced days and choose among the free ones, as `announced` and `choose_days` do."""
    told, told_loss = announced
    rule, ahead, rows = terms.announcing, np.arange(losses.shape[1]), np.arange(len(losses))
    here, printed = losses[rows, told], np.rint(100 * losses)
    stands = (told > 0) & ~(
        (here > rule.held * np.maximum(terms.loss_limit, told_loss))
        & (printed[rows, told] != np.rint(100 * told_loss))
    )
    safer = (here[:, None] - losses >= rule.gain) & (printed != printed[rows, told, None])
    at_told = ahead == told[:, None]
    free = np.where(stands[:, None], safer | at_told, (told == 0)[:, None] | ~at_told)
    free &= sent.may_go(evening[:, None] + ahead) & (ahead > 0)
    free &= good_enough(free, losses, sent.ready - evening, terms)
    waited = np.maximum(ahead - np.maximum(sent.ready - evening, 0)[:, None], 0)
    cost = RISK * np.rint(PLANT * (losses + terms.waiting_price * waited))
    best = np.where(free, cost + np.minimum(waited, MOST_LATE), np.inf).argmin(axis=1)
    stands &= ~free.any(axis=1) | (best == told)
    fresh = np.where(free[rows, best] & (best <= rule.days), best, 0)
    return np.where(stands, told, fresh), np.where(stands, told_loss, losses[rows, best])


def good_enough(free: Yes, losses: Array, ready_in: Whole, terms: PostingTerms) -> Yes:
    """Say which days will do: those under the limit; after the longest wait, where none within as long is, the best."""
    soon = free & (
        np.arange(losses.shape[1]) - np.maximum(ready_in, 0)[:, None] <= terms.longest_wait
    )
    least = np.where(soon, losses, np.inf).min(axis=1)
    asked = (least > terms.loss_limit) & (1 - ready_in >= terms.longest_wait)
    good = losses <= np.where(asked, least, terms.loss_limit)[:, None]
    return np.asarray(good & (soon | ~asked[:, None]))


def coldest(sent: Parcels, drawn: Array, rule: str) -> Array:
    """Give the coldest night a rule of thumb sees, by days waited; without end where none may go [degrees C]."""
    days = sent.ready[:, None] + np.arange(MOST_WAIT + 1)
    found = np.where(sent.may_go(days), np.inf, -np.inf)
    for end, nights in zip(np.array(WAYS_ROUND).T, THUMBS[rule], strict=True):
        told = drawn[..., nights].min(axis=-1)
        found = np.minimum(found, told[end[sent.pair][:, None], sent.spring[:, None], days - 1])
    return found


def thumb(sent: Parcels, lowest: Array, margin_c: float) -> Practised:
    """Practise a rule of thumb: post when the coldest of its nights is over a margin [degrees C]."""
    goes = lowest > margin_c
    found: Yes = np.any(goes, axis=1)
    posted = np.where(found, sent.ready + goes.argmax(axis=1), sent.last())
    return Practised(posted, ~found, np.zeros(len(posted), dtype=np.int64))
