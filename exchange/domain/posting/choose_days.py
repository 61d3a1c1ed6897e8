"""Choosing days: one assignment over all parcels together.

A day's cost is the expected plants lost and the price of waiting, then postage, then lateness, as one
whole number. A parcel that cannot go is left without a day, at a cost above any day's, so there is always an answer.
"""

import math
from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from exchange.domain.optimise.assignment import Limit, assign
from exchange.domain.posting.circumstances import Circumstances
from exchange.domain.posting.options import Option, ParcelCase
from exchange.domain.posting.parcel import Parcel
from exchange.domain.posting.stops import kept_varieties, plants, ready_from
from exchange.domain.posting.transit import expected_days

PLANT = 10_000
"""Units of risk in a plant."""
RISK, POSTAGE = 10_000, 10
"""Weights of a unit of risk and of the smallest coin; a day's lateness weighs 1."""
MOST_POSTAGE, MOST_LATE = 999, 9


@dataclass(frozen=True, slots=True)
class Chosen:
    """The chosen day of every parcel.

    Attributes
    ----------
    options : parcel id -> option, None where no day could be given
    cost, bound : value of the assignment and the solver's lower bound
    proven : whether no better choice exists
    """

    options: Mapping[int, Option | None]
    cost: int
    bound: float
    proven: bool


@dataclass(frozen=True, slots=True)
class Placed:
    """A parcel whose day is not to be chosen, which takes up its day and room all the same.

    Attributes
    ----------
    day : posting day, None where it is not known
    arrives : the first day it may come; a parcel under way may come any day
    """

    parcel: Parcel
    day: date | None
    arrives: date = date.min

    @classmethod
    def gone(cls, parcel: Parcel) -> "Placed":
        """Place a parcel that is posted."""
        return cls(parcel, parcel.posted_on)

    @classmethod
    def by(cls, case: ParcelCase, option: Option) -> "Placed":
        """Place a parcel on the day of an option."""
        return cls(case.parcel, option.day, expected_days(option.coming)[0])


def option_cost(case: ParcelCase, option: Option, around: Circumstances) -> int:
    """Give the whole-number cost of an option; what is not known of an announced day costs nothing."""
    start = max(case.today, ready_from(case.parcel))
    waited = max((option.day - start).days, 0)
    lost = 0.0 if math.isnan(option.lost) else option.lost
    risk = round(PLANT * (lost + around.terms.waiting_price * waited))
    postage = min(option.way.postage or 0, MOST_POSTAGE)
    return RISK * risk + POSTAGE * postage + min(waited, MOST_LATE)


def no_day_cost(case: ParcelCase, around: Circumstances) -> int:
    """Give the cost of leaving a parcel without a day: above that of any day."""
    # All plants lost after the longest wait, and one more: a parcel is left without a day only when
    # every day is shut or full.
    most = plants(case.parcel) + around.terms.waiting_price * 2 * around.terms.horizon
    return RISK * round(PLANT * (most + 1))


def choose_days(
    laid: Sequence[ParcelCase],
    options: Mapping[int, Sequence[Option]],
    around: Circumstances,
    placed: Sequence[Placed] = (),
) -> Chosen:
    """Choose the day and way of every parcel.

    Parameters
    ----------
    options : parcel id -> options; those that are stopped are never taken
    placed : parcels already posted, or on a day that is fixed: they count on their day and for room

    Returns
    -------
    Chosen
    """
    columns: list[Option | None] = []
    costs: list[int] = []
    groups: list[list[int]] = []
    for case in laid:
        allowed = [one for one in options[case.parcel.id] if one.allowed]
        groups.append(list(range(len(columns), len(columns) + len(allowed) + 1)))
        columns += [*allowed, None]
        costs += [option_cost(case, one, around) for one in allowed]
        costs.append(no_day_cost(case, around))
    taken = list(_taken(laid, columns, groups))
    limits = [
        *_a_day(taken, around, placed),
        *_one_kept_a_day(taken, placed),
        *_room(taken, around, placed),
    ]
    answer = assign(groups, costs, limits)
    picked = {
        case.parcel.id: columns[column] for case, column in zip(laid, answer.chosen, strict=True)
    }
    return Chosen(picked, answer.cost, answer.bound, answer.proven)


Column = tuple[int, ParcelCase, Option]


def _taken(
    laid: Sequence[ParcelCase], columns: Sequence[Option | None], groups: Sequence[Sequence[int]]
) -> Iterable[Column]:
    for case, group in zip(laid, groups, strict=True):
        for column in group:
            option = columns[column]
            if option is not None:
                yield column, case, option


def _a_day(
    taken: Sequence[Column], around: Circumstances, placed: Sequence[Placed]
) -> Iterable[Limit]:
    """Hold each household to the parcels it can pack on a day."""
    by_day: defaultdict[tuple[int, date], list[int]] = defaultdict(list)
    for column, case, option in taken:
        by_day[case.parcel.posted_by, option.day].append(column)
    for (household, day), columns in sorted(by_day.items()):
        posted = sum(one.parcel.posted_by == household and one.day == day for one in placed)
        most = max(around.households[household].parcels_a_day - posted, 0)
        if len(columns) > most:
            yield Limit(tuple(columns), (1,) * len(columns), most)


def _one_kept_a_day(taken: Sequence[Column], placed: Sequence[Placed]) -> Iterable[Limit]:
    """Let no two parcels of one day's post carry the same variety that must not be lost."""
    posted = {(one.day, variety) for one in placed for variety in kept_varieties(one.parcel)}
    by_day: defaultdict[tuple[date, int], list[int]] = defaultdict(list)
    for column, case, option in taken:
        for variety in kept_varieties(case.parcel):
            by_day[option.day, variety].append(column)
    for key, columns in sorted(by_day.items()):
        yield Limit(tuple(columns), (1,) * len(columns), 0 if key in posted else 1)


def _room(
    taken: Sequence[Column], around: Circumstances, placed: Sequence[Placed]
) -> Iterable[Limit]:
    """Hold each place to its room on every day; what has come stays until it is planted out."""
    by_place: defaultdict[tuple[int, int], list[tuple[date, int, int]]] = defaultdict(list)
    for column, case, option in taken:
        if case.room is not None:
            arrives = expected_days(option.coming)[0]
            by_place[case.receiver.id, case.room].append((arrives, column, plants(case.parcel)))
    for (place, room), coming in sorted(by_place.items()):
        others = [one for one in placed if one.parcel.receiver_place_id == place]
        for day in sorted({arrives for arrives, _, _ in coming} | {one.arrives for one in others}):
            there = [(column, count) for arrives, column, count in coming if arrives <= day]
            besides = sum(plants(one.parcel) for one in others if one.arrives <= day)
            most = max(room - around.taken(place, day) - besides, 0)
            if sum(count for _, count in there) > most:
                yield Limit(
                    tuple(column for column, _ in there),
                    tuple(count for _, count in there),
                    most,
                )
