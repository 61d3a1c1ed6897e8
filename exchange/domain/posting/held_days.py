"""Announced days among the days weighed: what each parcel may take today, and the choice of all."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import timedelta

import numpy as np

from exchange.domain.posting.announced import (
    Told,
    WeighedDays,
    earliest_ahead,
    free_days,
    is_safer,
)
from exchange.domain.posting.choose_days import Chosen, Placed, choose_days
from exchange.domain.posting.circumstances import Circumstances
from exchange.domain.posting.options import Option, ParcelCase
from exchange.domain.posting.parcel import Parcel
from exchange.domain.posting.reasons import WEATHER_WORDS, Stop
from exchange.domain.posting.stops import loss_limit
from exchange.domain.posting.strip import best_of_day
from exchange.domain.posting.transit import expected_days
from exchange.domain.weather.forecast import Knowledge, knowledge


@dataclass(frozen=True, slots=True)
class DayChoices:
    """What one parcel may take today.

    Attributes
    ----------
    options : all of them; that of an announced day which is held is stopped by nothing
    free : those it may take
    told : the announced day, None where there is none or no option is left on it
    old, stop : the option of the announced day and what stopped it when it was weighed
    stands : whether nothing asks for the announced day to be left
    known : what the forecasts tell of the announced day now
    """

    case: ParcelCase
    options: tuple[Option, ...]
    free: tuple[Option, ...]
    weighed: WeighedDays
    told: Told | None = None
    old: Option | None = None
    stop: Stop | None = None
    stands: bool = False
    known: Knowledge | None = None

    @property
    def is_persons(self) -> bool:
        """Whether a person chose the announced day, so that only that person moves it."""
        return self.told is not None and self.told.by_person and self.old is not None

    @property
    def is_held(self) -> bool:
        """Whether the announced day is among the days it may take."""
        return self.old in self.free


def choices(case: ParcelCase, options: Sequence[Option], around: Circumstances) -> DayChoices:
    """Say which options a parcel may take today."""
    told, rule = _told(case), around.terms.announcing
    old = announced_option(case.parcel, options)
    known = journey_known(case, old, around) if old else None
    less = known is not None and known.is_less_than(case.parcel.known)
    weighed = _weighed(case, options, old, around, less_known=less)
    days = free_days(told, weighed, rule)
    free = [one for one in options if one.allowed and _is_among(days, case, one)]
    if told is None or old is None:
        return DayChoices(case, tuple(options), tuple(free), weighed, told)
    stands, others = bool(days[told.ahead]), [one for one in free if one.day != old.day]
    if not (stands or told.by_person):
        # Another way on the same day moves nothing.
        others += [one for one in options if one.day == old.day and one.allowed and one is not old]
        return DayChoices(case, tuple(options), tuple(others), weighed, told, old, old.stop)
    if stands:
        others = [one for one in others if is_safer(one.loss, old.loss, rule)]
    held = replace(old, stop=None)
    laid = tuple(held if one is old else one for one in options)
    return DayChoices(case, laid, (held, *others), weighed, told, held, old.stop, stands, known)


def announced_option(parcel: Parcel, options: Sequence[Option]) -> Option | None:
    """Give the option of the announced day: by its way, or by another where that goes no longer."""
    same = [one for one in options if one.day == parcel.announced_day]
    open_ways = [one for one in same if not _is_hard(one.stop)] or same
    by_way = [one for one in open_ways if one.way.id == parcel.announced_way_id]
    return best_of_day(by_way or open_ways) if same else None


def journey_known(case: ParcelCase, option: Option, around: Circumstances) -> Knowledge:
    """Say what the forecasts tell of the nights from posting to the last expected day."""
    ends = [around.outlooks.get(case.sender.id), around.outlooks.get(case.receiver.id)]
    if option.way.via_place_id is not None:
        ends.append(around.outlooks.get(option.way.via_place_id))
    return knowledge(ends, option.day, expected_days(option.coming)[1])


def choose_held(
    laid: Sequence[DayChoices], around: Circumstances, gone: Sequence[Parcel]
) -> tuple[Chosen, frozenset[int]]:
    """Choose the day and way of every parcel, with announced days held.

    A day that a person chose is not chosen again; the other announced days come next, and take what they
    need before any day that is not announced.

    Returns
    -------
    the choice, and the parcels whose announced day is held but taken up by others [ids]
    """
    fixed = {one.case.parcel.id: one.old for one in laid if one.is_persons}
    placed = [Placed.gone(one) for one in gone]
    placed += [Placed.by(one.case, one.old) for one in laid if one.is_persons and one.old]
    held = [one for one in laid if one.is_held and not one.is_persons]
    first = _chosen(held, {one.case.parcel.id: one.free for one in held}, around, placed)
    placed += [
        Placed.by(one.case, option)
        for one in held
        if (option := first.options[one.case.parcel.id]) is not None
    ]
    out = frozenset(key for key, option in first.options.items() if option is None)
    rest = [one for one in laid if not one.is_held or one.case.parcel.id in out]
    free = {
        one.case.parcel.id: _open_options(one) if one.case.parcel.id in out else one.free
        for one in rest
    }
    then = _chosen(rest, free, around, placed)
    return (
        Chosen(
            {**first.options, **then.options, **fixed},
            first.cost + then.cost,
            first.bound + then.bound,
            first.proven and then.proven,
        ),
        out,
    )


def _chosen(
    laid: Sequence[DayChoices],
    free: Mapping[int, Sequence[Option]],
    around: Circumstances,
    placed: Sequence[Placed],
) -> Chosen:
    return choose_days([one.case for one in laid], free, around, placed)


def _told(case: ParcelCase) -> Told | None:
    parcel = case.parcel
    if parcel.announced_day is None:
        return None
    loss = math.nan if parcel.announced_loss is None else parcel.announced_loss
    return Told((parcel.announced_day - case.today).days, loss, parcel.by_person)


def _weighed(
    case: ParcelCase,
    options: Sequence[Option],
    old: Option | None,
    around: Circumstances,
    *,
    less_known: bool,
) -> WeighedDays:
    """Give for each day from today the figures of the option that speaks for it."""
    length = max(((one.day - case.today).days for one in options), default=-1) + 1
    losses, stopped = np.full(length, np.nan), np.ones(length, dtype=np.bool_)
    for ahead in range(length):
        day = case.today + timedelta(days=ahead)
        here = [one for one in options if one.day == day]
        if here:
            best = old if old is not None and old.day == day else best_of_day(here)
            losses[ahead], stopped[ahead] = best.loss, _is_hard(best.stop)
    return WeighedDays(
        losses,
        stopped,
        loss_limit(case.parcel, around),
        earliest_ahead(case.local_now.hour),
        less_known,
    )


def _is_hard(stop: Stop | None) -> bool:
    return stop is not None and stop.word not in WEATHER_WORDS


def _is_among(days: Sequence[bool] | np.ndarray, case: ParcelCase, option: Option) -> bool:
    ahead = (option.day - case.today).days
    return 0 <= ahead < len(days) and bool(days[ahead])


def _open_options(choice: DayChoices) -> tuple[Option, ...]:
    """Give all a parcel may take once its announced day is taken up."""
    old = choice.old
    return tuple(
        one
        for one in choice.options
        if one.allowed
        and (old is None or one.day != old.day)
        and (one.day - choice.case.today).days >= choice.weighed.earliest
    )
