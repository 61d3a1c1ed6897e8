"""Learning from the circle's own nights: the spread by lead, and each place's own difference."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from statistics import fmean

from exchange.domain.weather.blend import PUBLISHED, Skill, at_lead
from exchange.domain.weather.scoring import crps_normal

FEWEST_NIGHTS = 60
"""Nights needed before the spread is refitted (judgement)."""

BELIEF_NIGHTS = 10.0
"""Nights without any difference that are assumed before a place's own is learned (judgement)."""

_DAYS = (3.0, 4.0, 5.0, 6.0, 7.0, 8.0, 8.656, 10.0, 12.0, 15.0, 20.0, 30.0)
_SITE_ERRORS = (0.3, 0.5, 0.674, 0.9, 1.2, 1.6, 2.0)


@dataclass(frozen=True, slots=True)
class KeptNight:
    """One night as a kept forecast had it, and as it came.

    Attributes
    ----------
    lead_days : [days]
    forecast_c : minimum of the forecast before any blending [degrees C]
    usual_c, usual_sd_k : climate [degrees C, K]
    observed_c : [degrees C]
    regressed : whether the service had drawn it toward climate itself
    """

    lead_days: float
    forecast_c: float
    usual_c: float
    usual_sd_k: float
    observed_c: float
    regressed: bool = False


@dataclass(frozen=True, slots=True)
class Refitted:
    """Old and new spread, with what each scores on the same nights.

    Attributes
    ----------
    crps_before_k, crps_after_k : mean CRPS, smaller is better [K]
    nights : how many [nights]
    """

    before: Skill
    after: Skill
    crps_before_k: float
    crps_after_k: float
    nights: int


class TooFewNightsError(Exception):
    """Too few nights to refit the spread."""


def refit(nights: Sequence[KeptNight], before: Skill = PUBLISHED) -> Refitted:
    """Choose the fall of skill and the error of the site that score best on the nights.

    The pair with the smallest mean CRPS on a fixed grid; the one before when none is better.

    Raises
    ------
    TooFewNightsError
        with fewer than 60 nights
    """
    if len(nights) < FEWEST_NIGHTS:
        raise TooFewNightsError(
            f"The spread is refitted from {FEWEST_NIGHTS} nights on; there are {len(nights)}."
        )
    score_before = mean_crps(nights, before)
    best, best_score = before, score_before
    for days in _DAYS:
        for site_error in _SITE_ERRORS:
            skill = Skill(days, site_error)
            score = mean_crps(nights, skill)
            if score < best_score:
                best, best_score = skill, score
    return Refitted(before, best, score_before, best_score, len(nights))


def mean_crps(nights: Sequence[KeptNight], skill: Skill) -> float:
    """Give the mean CRPS the nights would have scored with this skill [K]."""
    total = 0.0
    for one in nights:
        said = at_lead(
            one.forecast_c,
            one.usual_c,
            one.usual_sd_k,
            one.lead_days,
            regressed=one.regressed,
            skill=skill,
        )
        total += crps_normal(one.observed_c, said.mean_c, said.sd_k)
    return total / len(nights)


def learned_shift(differences_k: Sequence[float]) -> float:
    """Give how much warmer a place's nights are than said, held back while nights are few [K].

    The mean of observed less forecast, as if ten further nights had shown no difference.
    """
    if not differences_k:
        return 0.0
    count = len(differences_k)
    return fmean(differences_k) * count / (count + BELIEF_NIGHTS)


def spread_of_shift(differences_k: Sequence[float]) -> float | None:
    """Give the standard error of the learned difference [K], None with fewer than three nights."""
    count = len(differences_k)
    if count < 3:
        return None
    mean = fmean(differences_k)
    variance = math.fsum((d - mean) ** 2 for d in differences_k) / (count - 1)
    # The assumed nights count here as they do in the mean.
    return math.sqrt(variance / (count + BELIEF_NIGHTS))
