"""Forecasts made up for past springs, of published skill, by two processes.

Each evening an issue tells of the coming nights. A forecast is the usual minimum plus a share of the true
departure plus an error, f = c + R2 (x - c) + sqrt(R2 (1 - R2)) s e, with R2 = exp(-(L + 0.5) / 8.656). The lead L is
counted to the date of the minimum: that of the coming night, dated tomorrow, is 1. By "as before" the error e is
new at each issue and the same everywhere; by "lasting" most of it stays with the night from issue to issue.
"""

from enum import StrEnum

import numpy as np

from exchange.domain.posting.replay.springs import DAYS, Array, Springs
from exchange.domain.weather.blend import explained

LEADS, SOONEST = 10, 1.5
"""Nights that an issue tells of, and L + 0.5 of the first [1, d]."""
NEW_SHARE = 0.2
"""Share of the lasting error's variance that is new at each issue (judgement)."""
NEIGHBOURS = 0.7
"""Correlation of the errors of neighbouring nights (judgement)."""
ALIKE, ALIKE_KM = 0.8, 600.0
"""Errors of two places correlate as ALIKE exp(-distance / ALIKE_KM) (judgement) [1, km]."""


class Process(StrEnum):
    """How errors of forecasts go on from issue to issue."""

    AS_BEFORE = "as before"
    LASTING = "lasting"


def skill(leads: int = LEADS) -> Array:
    """Give the share of the variance that a forecast explains, for leads of 1, 2 ... days."""
    return np.array([explained(SOONEST + later) for later in range(leads)])


def kept_error(leads: int) -> Array:
    """Give the correlation r of a lasting error with that of the issue before, by lead from 1 now.

    From L to L - 1 it is sqrt(R2(L) (1 - R2(L - 1)) / (R2(L - 1) (1 - R2(L)))): so the new issue tells all the old did.
    """
    share = skill(leads + 1)
    odds = share / (1 - share)
    return np.asarray(np.sqrt(odds[1:] / odds[:-1]))


def forecasts(
    springs: Springs, process: Process, apart_km: Array, chance: np.random.Generator
) -> Array:
    """Draw an issue for every evening of every spring (2, springs, evenings, leads) [degrees C].

    Parameters
    ----------
    apart_km : distances of the files (files, files) [km]
    """
    errors = _errors(springs, process, apart_km, chance)
    found = np.full(errors.shape, np.nan)
    for lead, share in enumerate(skill()):
        nights, days = slice(lead, DAYS), DAYS - lead
        usual = springs.usual[:, :, nights]
        noise = np.sqrt(share * (1 - share)) * springs.spread[:, :, nights]
        found[:, :, :days, lead] = usual + share * (springs.lows[:, :, nights] - usual)
        found[:, :, :days, lead] += noise * errors[:, :, :days, lead]
    return found


def _errors(
    springs: Springs, process: Process, apart_km: Array, chance: np.random.Generator
) -> Array:
    new, alike = 1.0, np.ones((len(springs.years), 1))
    if process is Process.LASTING:
        here, there = springs.ends[:, :, None]
        apart = ALIKE * np.exp(-apart_km[here, there] / ALIKE_KM)
        new, alike = NEW_SHARE, np.where(here == there, 1.0, apart)

    def news(nights: int) -> Array:
        one, own = _along_nights(chance.standard_normal((2, len(alike), nights)))
        return np.stack([one, alike * one + np.sqrt(1 - alike**2) * own])

    keep, stays = kept_error(DAYS), news(DAYS)
    found = np.full((2, len(alike), DAYS, LEADS), np.nan)
    for evening in range(DAYS):
        left, told = DAYS - evening, min(LEADS, DAYS - evening)
        if evening:
            stays = keep[:left] * stays[:, :, 1:] + np.sqrt(1 - keep[:left] ** 2) * news(left)
        mixed = np.sqrt(1 - new) * stays[:, :, :told] + np.sqrt(new) * news(told)
        found[:, :, evening, :told] = mixed
    return found


def _along_nights(fresh: Array) -> Array:
    """Join independent errors from night to night, along the last axis."""
    found = fresh.copy()
    for night in range(1, fresh.shape[-1]):
        found[..., night] *= np.sqrt(1 - NEIGHBOURS**2)
        found[..., night] += NEIGHBOURS * found[..., night - 1]
    return found
