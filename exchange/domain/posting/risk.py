"""The risk table: the loss of every parcel for every posting day and every day of delivery.

One pass through the hours serves all ways: a parcel goes from packing through the depots, and at seven on
every morning on which it may be delivered a branch is followed to the doorstep and indoors.
"""

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import groupby

import numpy as np
from numpy.typing import NDArray

from exchange.domain.posting import heat
from exchange.domain.posting.exposure import Air
from exchange.domain.posting.injury import Held, ToleranceCurves, kept

Array = NDArray[np.float64]
Rows = NDArray[np.int64]

HANDED_OVER, EVENING, MORNING, DELIVERED = 12, 18, 7, 11
"""Hours of the day: handed over, last collection, out for delivery, at the door (judgement)."""
NOON = 12
CARRIED_FROM, CARRIED_UNTIL = 13, 18
"""Hours of the day in which a parcel carried by hand is on its way home (judgement)."""
SENDER, THROUGH, RECEIVER = "sender", "through", "receiver"
BLOCK = 48
"""Parcels followed together, so that their cores stay in the processor's cache."""


@dataclass(frozen=True, slots=True)
class RiskInput:
    """What the table must know of one parcel.

    Attributes
    ----------
    sender, receiver : rows of the air
    through : row of the air of the depots after the first night, None for the receiver's
    latent_k : latent heat of a damp wrap, 0 for dry packing [K]
    indoors_at : hour of the delivery day at which it is taken in
    kinds : curves of loss of the stock in it, one for each kind
    shelter : row of the sheltered lows, see `LossTable`
    """

    sender: int
    receiver: int
    tau_h: float
    latent_k: float
    indoors_at: int
    depot_offset_c: float
    kinds: tuple[ToleranceCurves, ...]
    shelter: int
    through: int | None = None


@dataclass(frozen=True, slots=True)
class RiskQuery:
    """What is asked of the table.

    Attributes
    ----------
    sheltered : lowest temperature in the first nights after arrival
        (shelters, days, scenarios) [degrees C]
    days : posting days [d]
    needed : whether delivery so many days after posting is asked for, from 0
    packed_at_c : temperature at packing [degrees C]
    """

    air: Air
    sheltered: Array
    days: int
    needed: tuple[bool, ...]
    packed_at_c: float


@dataclass(frozen=True, slots=True)
class LossTable:
    """Losses by journey.

    Attributes
    ----------
    loss : for each journey, (kinds, posting days, days to delivery); not a number where not needed
    box_middle, box_tenth : lowest core temperature held for three hours, median and the value 1 future in
        10 falls below
        (journeys, posting days, days to delivery) [degrees C]
    """

    loss: tuple[Array, ...]
    box_middle: Array
    box_tenth: Array


def _alike(journey: RiskInput) -> tuple[float, float, float, int, int]:
    return (
        journey.tau_h,
        journey.depot_offset_c,
        journey.latent_k,
        journey.indoors_at,
        len(journey.kinds),
    )


def risk_table(
    journeys: Sequence[RiskInput], question: RiskQuery, *, figures: bool = True
) -> LossTable:
    """Work out every journey's loss.

    Parameters
    ----------
    figures : also give the temperatures in the box

    Returns
    -------
    LossTable
    """
    shape = (len(journeys), question.days, len(question.needed))
    loss: list[Array] = [np.empty(0)] * len(journeys)
    middle, tenth = np.full(shape, np.nan), np.full(shape, np.nan)

    def follow(block: Sequence[int], pulls: _Pulls) -> None:
        walk = _Walk([journeys[index] for index in block], question, pulls)
        found = np.full((len(block), len(journeys[block[0]].kinds), *shape[1:]), np.nan)
        for after, low, high in walk.deliveries():
            found[..., after] = walk.losses(after, low, high)
            if figures:
                ranked = np.sort(low, axis=2)
                middle[block, :, after] = _quantile(ranked, 0.5)
                tenth[block, :, after] = _quantile(ranked, 0.1)
        for place, index in enumerate(block):
            loss[index] = found[place]

    for pulls, blocks in _blocks(journeys, question):
        for block in blocks:
            follow(block, pulls)
    return LossTable(tuple(loss), middle, tenth)


def _blocks(
    journeys: Sequence[RiskInput], question: RiskQuery
) -> Iterable[tuple["_Pulls", list[list[int]]]]:
    """Give blocks of parcels alike, those of one packing together, with the effect of each hour's air, which they share."""
    order = sorted(range(len(journeys)), key=lambda index: _alike(journeys[index]))
    for (tau, offset), packed in groupby(
        order, key=lambda index: (journeys[index].tau_h, journeys[index].depot_offset_c)
    ):
        blocks = []
        for _, group in groupby(packed, key=lambda index: _alike(journeys[index])):
            members = list(group)
            blocks += [members[start : start + BLOCK] for start in range(0, len(members), BLOCK)]
        yield _Pulls(question.air, math.exp(-1 / tau), offset), blocks


class _Pulls:
    """What the air of an hour adds to a core, worked out once for all places.

    A core keeps a share of its warmth over the hour and takes the rest from the air.
    """

    def __init__(self, air: Air, keep: float, offset: float) -> None:
        self.keep = keep
        give, shift = 1 - keep, (1 - keep) * offset
        self.outside = [give * hour for hour in air.hourly]
        self.depot = {
            hour: self.outside[hour] + shift
            for hour in range(24)
            if hour >= EVENING or hour < MORNING
        }


def _quantile(ranked: Array, share: float) -> Array:
    """Read a quantile of equally likely futures, ranked along the last axis."""
    at = share * ranked.shape[-1] - 0.5
    low = max(0, min(ranked.shape[-1] - 1, math.floor(at)))
    high = min(ranked.shape[-1] - 1, low + 1)
    part = min(1.0, max(0.0, at - low))
    value: Array = ranked[..., low] * (1 - part) + ranked[..., high] * part
    return value


class _Walk:
    """Parcels alike in packing and hours, followed hour by hour in every future."""

    def __init__(self, journeys: Sequence[RiskInput], question: RiskQuery, pulls: _Pulls) -> None:
        first = journeys[0]
        self.question, self.pulls = question, pulls
        self.gathered: dict[tuple[int, str, bool], Array] = {}
        self.tau, self.latent = first.tau_h, first.latent_k
        self.indoors_at, self.offset = first.indoors_at, first.depot_offset_c
        self.rows = {
            SENDER: np.array([one.sender for one in journeys]),
            RECEIVER: np.array([one.receiver for one in journeys]),
            THROUGH: np.array(
                [one.receiver if one.through is None else one.through for one in journeys]
            ),
        }
        self.shelter = np.array([one.shelter for one in journeys])
        self.cold = np.array([[kind.cold for kind in one.kinds] for one in journeys])
        self.heat = np.array([[kind.heat for kind in one.kinds] for one in journeys])
        self.dark = np.array([[kind.dark for kind in one.kinds] for one in journeys])

    def _pull(self, hour: int, at: str, *, depot: bool) -> Array:
        """Give what the air of an hour adds at one place (parcels, days, futures), gathered once."""
        key = (hour, at, depot)
        if key not in self.gathered:
            pull = self.pulls.depot[hour] if depot else self.pulls.outside[hour]
            self.gathered[key] = pull[self.rows[at]]
        return self.gathered[key]

    def _step(self, state: Array, when: tuple[int, int], at: str, *, depot: bool) -> None:
        """Move cores an hour on, in place."""
        day, hour = when
        before = state.copy() if self.latent else state
        state *= self.pulls.keep
        pull = self._pull(hour, at, depot=depot)
        state += pull[:, day : day + self.question.days]
        if self.latent:
            self._freeze(state, before, self.rows[at], (day, hour, depot))

    def _freeze(self, state: Array, before: Array, rows: Rows, when: tuple[int, int, bool]) -> None:
        """Correct the cores of a damp wrap that freeze, are frozen or thaw."""
        odd = (state < 0) | (before <= 0)
        if not odd.any():
            return
        day, hour, depot = when
        chosen = np.flatnonzero(odd)
        parcel, rest = np.divmod(chosen, odd[0].size)
        air = self.question.air.hourly[hour].reshape(len(self.question.air.lows), -1)
        ambient = air[rows[parcel], rest + day * odd.shape[2]]
        if depot:
            ambient += self.offset
        state.reshape(-1)[chosen] = heat.damp_step(
            before.reshape(-1)[chosen], ambient, self.tau, self.latent
        )

    def _core(self, state: Array) -> Array:
        return heat.core(state, self.latent) if self.latent else state

    def _follow(
        self, state: Array, held: Held, hours: Iterable[tuple[int, int]]
    ) -> tuple[Array, Array]:
        """Follow the receiver's air through the given hours of a day; give new extremes."""
        held, state = held.branch(), state.copy()
        for day, hour in hours:
            self._step(state, (day, hour), RECEIVER, depot=False)
            held.add(self._core(state))
        return held.low, held.high

    def deliveries(self) -> Iterable[tuple[int, Array, Array]]:
        """Give days to delivery, lowest and highest core temperature held (parcels, days, futures)."""
        shape = (len(self.shelter), self.question.days, self.question.air.lows.shape[2])
        state = np.full(shape, self.question.packed_at_c)
        held = Held.steady(state)
        needed = self.question.needed
        if needed[0]:
            hours = [(0, hour) for hour in range(CARRIED_FROM, CARRIED_UNTIL)]
            yield 0, *self._follow(state, held, hours)
        for day in range(len(needed)):
            for hour in range(HANDED_OVER if day == 0 else 0, 24):
                if day and hour == MORNING:
                    if needed[day]:
                        hours = [(day, late) for late in range(MORNING, self.indoors_at)]
                        yield day, *self._follow(state, held, hours)
                    if day == len(needed) - 1:
                        return
                at = SENDER if (day, hour) < (1, NOON) else THROUGH
                self._step(state, (day, hour), at, depot=hour >= EVENING or hour < MORNING)
                held.add(self._core(state))

    def losses(self, after: int, low: Array, high: Array) -> Array:
        """Give the mean loss over the futures (parcels, kinds, posting days)."""
        days = slice(after, after + self.question.days)
        sheltered = self.question.sheltered[self.shelter, days]
        lowest = np.minimum(low, sheltered)
        found = np.empty((len(self.shelter), self.cold.shape[1], self.question.days))
        for kind in range(self.cold.shape[1]):
            cold, hot, dark = (
                (curve[:, kind, 0, None, None], curve[:, kind, 1, None, None])
                for curve in (self.cold, self.heat, self.dark)
            )
            living = kept(cold, lowest)
            living *= kept(hot, high)
            mean = living.mean(axis=2) * kept(dark, float(after))[:, :, 0]
            found[:, kind] = 1 - mean
        return found
