"""Synthetic forecasts of published skill over past springs, and the parcels of a replay.

A forecast is the usual minimum plus a share of the true departure plus an error,
f = c + R2 (x - c) + sqrt(R2 (1 - R2)) s e, with R2 = exp(-L / 8.656) and L the lead in days plus a half.
The lead is counted to the date of the minimum: the coming night's, dated tomorrow, has lead 1. The error e is correlated 0.7 from lead to lead, new at every issue, and
the same at all places.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from exchange.domain.posting.replay.springs import DAYS, READY, Springs

Array = NDArray[np.float64]

LEADS = 10
DECAY_DAYS = 8.656
ERROR_CORRELATION = 0.7
PARCELS_A_SPRING, READY_WITHIN = 60, 50
ODDS = (0.775, 0.148, 0.043, 0.034)
"""Chance of delivery on the first, second ... delivery day: the regulator's published results."""
MOST_WAIT = 28
SUNDAY = 6


def skill(leads: int = LEADS) -> Array:
    """Give the share of the variance that a forecast explains, for leads of 1, 2 ... days."""
    found: Array = np.exp(-(np.arange(1, leads + 1) + 0.5) / DECAY_DAYS)
    return found


def forecasts(springs: Springs, chance: np.random.Generator) -> Array:
    """Draw an issue every day of every spring.

    Returns
    -------
    array (files, springs, issue days, leads)
        not a number beyond the axis [degrees C]
    """
    explained = skill()
    fresh = chance.standard_normal((len(springs.years), DAYS, LEADS))
    error = fresh.copy()
    for lead in range(1, LEADS):
        carried = ERROR_CORRELATION * error[:, :, lead - 1]
        error[:, :, lead] = carried + np.sqrt(1 - ERROR_CORRELATION**2) * fresh[:, :, lead]
    drawn = np.full((*springs.lows.shape, LEADS), np.nan)
    for lead, share in enumerate(explained):
        nights = slice(lead, DAYS)
        departure = springs.lows[:, :, nights] - springs.usual[:, None, nights]
        noise = np.sqrt(share * (1 - share)) * springs.spread[:, None, nights]
        drawn[:, :, : DAYS - lead, lead] = (
            springs.usual[:, None, nights]
            + share * departure
            + noise * error[None, :, : DAYS - lead, lead]
        )
    return drawn


@dataclass(frozen=True, slots=True)
class ReplayParcel:
    """One parcel of a replay.

    Attributes
    ----------
    spring, sender, receiver : places on the axes of `Springs`
    ready : first day on which it may go, on the axis
    delivered : delivery days it takes, 0 for the first
    """

    spring: int
    sender: int
    receiver: int
    ready: int
    delivered: int


def parcels(
    springs: Springs, chance: np.random.Generator, count: int = PARCELS_A_SPRING
) -> tuple[ReplayParcel, ...]:
    """Draw the parcels: between two different files, or within the only one."""
    files = len(springs.names)
    drawn = []
    for spring in range(len(springs.years)):
        for _ in range(count):
            ends = chance.choice(files, 2, replace=files == 1)
            ready = READY + int(chance.integers(READY_WITHIN))
            delivered = int(chance.choice(len(ODDS), p=ODDS))
            drawn.append(ReplayParcel(spring, int(ends[0]), int(ends[1]), ready, delivered))
    return tuple(drawn)


@dataclass(frozen=True, slots=True)
class ParcelOutcome:
    """What became of a parcel posted on a day: frosted nights, and whether it lay over a Sunday."""

    frosted: int
    over_sunday: bool


def weekday(springs: Springs, spring: int, day: int) -> int:
    """Give the weekday of a day on the axis, 0 = Monday."""
    return int(springs.weekdays[spring] + day) % 7


def outcome(springs: Springs, sent: ReplayParcel, posted: int) -> ParcelOutcome:
    """Count the nights at or below 0 C: at the sender the first, at the receiver those after."""
    frosted = int(springs.lows[sent.sender, sent.spring, posted] <= 0)
    over_sunday, delivery_days, day = False, 0, posted
    while True:
        day += 1
        if weekday(springs, sent.spring, day) == SUNDAY:
            over_sunday = True
        else:
            delivery_days += 1
            if delivery_days > sent.delivered:
                return ParcelOutcome(frosted, over_sunday)
        frosted += int(springs.lows[sent.receiver, sent.spring, day] <= 0)


def in_transit() -> Array:
    """Give the chance of being still in the post on the n-th night (weekday of posting, nights)."""
    found = np.zeros((7, len(ODDS) + 2))
    for posted in range(7):
        left, night, delivery_days = 1.0, 0, 0
        while delivery_days < len(ODDS):
            found[posted, night] = left
            night += 1
            if (posted + night) % 7 != SUNDAY:
                left -= ODDS[delivery_days]
                delivery_days += 1
    return found
