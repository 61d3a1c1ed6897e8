"""The air around plants, place by place and hour by hour, in every future; and in the receiver's shelter."""

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

import numpy as np
from numpy.typing import NDArray

from exchange.domain.growing.shelter import ADDS_K, HOLDS_C, Shelter, ShelterKind, stands_as
from exchange.domain.posting.futures import chosen_members, errors_by_place
from exchange.domain.weather.forecast import Night, Outlook, WeatherSource

Array = NDArray[np.float64]

COLDEST_HOUR, WARMEST_HOUR = 6, 15
DAY_ERROR_SHARE = 0.7
"""Error of the day's highest temperature for one of the night's (judgement)."""
WARMEST_FIRST = tuple(ShelterKind)


@dataclass(frozen=True, slots=True)
class Air:
    """The air at several places over the days from `first` on.

    Attributes
    ----------
    row : place id -> index of its row
    lows : night minima (places, days, scenarios) [degrees C]
    hourly : (24, places, days, scenarios) [degrees C]
    known : whether the night that begins on the day is known (places, days)
    middle, spread : the nights as the outlook gives them (places, days) [degrees C, K]
    climate : whether a night is climate alone (places, days)
    """

    first: date
    row: Mapping[int, int]
    lows: Array
    hourly: Array
    known: NDArray[np.bool_]
    middle: Array
    spread: Array
    climate: NDArray[np.bool_]


def _nights(outlook: Outlook | None, first: date, days: int) -> list[Night | None]:
    if outlook is None:
        return [None] * days
    return [outlook.night(first + timedelta(days=n)) for n in range(days)]


def _filled(nights: Sequence[Night | None]) -> list[Night | None]:
    """Let the last known night stand for those after it, and the first for those before."""
    filled: list[Night | None] = []
    for night in nights:
        filled.append(night if night is not None else (filled[-1] if filled else None))
    known = next((night for night in nights if night is not None), None)
    return [known if night is None else night for night in filled]


def _figure(nights: Sequence[Night | None], name: str) -> list[float]:
    return [math.nan if night is None else getattr(night, name) for night in nights]


def air(
    outlooks: Mapping[int, Outlook],
    first: date,
    days: int,
    scenarios: int,
    among: Mapping[int, Outlook] | None = None,
) -> Air:
    """Draw out the air at every place of the outlooks.

    Parameters
    ----------
    outlooks : by place id
    days : days from `first` on, each with the night that begins on it [d]
    among : the outlooks of the whole circle, by which ensemble members are chosen, so that a place has
        the same futures whichever parcels are asked for; None for those given

    Returns
    -------
    Air
        days beyond the known nights repeat the nearest and are not `known`; places without any night
        are not a number throughout
    """
    places = sorted(outlooks)
    given = [_nights(outlooks[place], first, days) for place in places]
    filled = [_filled(nights) for nights in given]
    shape = (len(places), days)
    middle = np.array([_figure(nights, "mean_c") for nights in filled]).reshape(shape)
    spread = np.array([_figure(nights, "sd_c") for nights in filled]).reshape(shape)
    high = np.array([_figure(nights, "day_high_c") for nights in filled]).reshape(shape)
    chosen = chosen_members({**(among or {}), **outlooks}, scenarios)
    errors = errors_by_place(filled, [chosen.get(place) for place in places], days, scenarios)
    lows, hours = drawn_out(middle, spread, high, errors)
    return Air(
        first=first,
        row={place: index for index, place in enumerate(places)},
        lows=lows,
        hourly=hours,
        known=np.array([[one is not None for one in nights] for nights in given]).reshape(shape),
        middle=middle,
        spread=spread,
        climate=np.array(
            [
                [one is not None and one.source is WeatherSource.CLIMATE for one in nights]
                for nights in given
            ]
        ).reshape(shape),
    )


def drawn_out(middle: Array, spread: Array, high: Array, errors: Array) -> tuple[Array, Array]:
    """Draw nights and days out into futures.

    Parameters
    ----------
    middle, spread : of the night minima (places, days) [degrees C, K]
    high : expected highest temperatures of the days, same shape [degrees C]
    errors : as `errors_by_place` gives them

    Returns
    -------
    lows and hourly, as in `Air` [degrees C]
    """
    lows = middle[:, :, None] + spread[:, :, None] * errors
    highs = high[:, :, None] + DAY_ERROR_SHARE * spread[:, :, None] * errors
    return lows, hourly(lows, np.maximum(highs, lows))


def hourly(lows: Array, highs: Array) -> Array:
    """Draw the hours between highest and lowest temperatures, as half waves that reach both.

    Parameters
    ----------
    lows : minimum of the night that begins on the day, reached at 6 the next morning
        (places, days, scenarios) [degrees C]
    highs : maximum of the day itself, reached at 15, same shape [degrees C]

    Returns
    -------
    array (24, places, days, scenarios)
        before the first night its own minimum stands for the morning
    """
    before = np.concatenate([lows[:, :1], lows[:, :-1]], axis=1)
    warm_before = np.concatenate([highs[:, :1], highs[:, :-1]], axis=1)
    hours = np.empty((24, *lows.shape))
    night, day = 24 - WARMEST_HOUR + COLDEST_HOUR, WARMEST_HOUR - COLDEST_HOUR
    for hour in range(24):
        if hour < COLDEST_HOUR:
            start, end, part = warm_before, before, (hour + 24 - WARMEST_HOUR) / night
        elif hour < WARMEST_HOUR:
            start, end, part = before, highs, (hour - COLDEST_HOUR) / day
        else:
            start, end, part = highs, lows, (hour - WARMEST_HOUR) / night
        weight = (1 + math.cos(math.pi * part)) / 2
        hours[hour] = end + weight * (start - end)
    return hours


def warmest(shelters: Iterable[Shelter]) -> ShelterKind:
    """Find the warmest shelter; pots that can be carried in at night count as free of frost.

    A place of which no shelter is known counts as indoors: its window sill.
    """
    kinds = {stands_as(one) for one in shelters}
    return min(kinds or {ShelterKind.INDOORS}, key=WARMEST_FIRST.index)


def night_low(kind: ShelterKind, outside: Array) -> Array:
    """Give the night's lowest temperature in a shelter [degrees C]."""
    inside: Array = np.maximum(outside + ADDS_K[kind], HOLDS_C[kind])
    return inside


def sheltered_lows(air: Air, stays: list[tuple[int, ShelterKind]], nights: int) -> Array:
    """Give the lowest temperature over the first nights from each day on.

    It is taken as held for three hours: at the end of a night the air changes by some 0.3 K in that time.

    Parameters
    ----------
    stays : row of the air and shelter, one for each row of the result

    Returns
    -------
    array (stays, days, scenarios)
        near the end fewer nights are known and counted
    """
    shape = (len(stays), *air.lows.shape[1:])
    alone = np.array([night_low(kind, air.lows[row]) for row, kind in stays]).reshape(shape)
    found = alone.copy()
    for later in range(1, min(nights, shape[1])):
        np.minimum(found[:, :-later], alone[:, later:], out=found[:, :-later])
    return found
