"""How cold a night will be: a forecast joined with climate by how far ahead it looks, or an ensemble.

The members of an ensemble stand as they are, each with the error of the site.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from statistics import NormalDist, fmean, pvariance

from exchange.domain.weather.forecast import Night

SKILL_DAYS = 8.656
"""How fast the explained variance falls with lead: half at six days (Stern 2017, days 5 to 7) [days]."""

SITE_ERROR_K = 0.674
"""Spread of the place itself, so that the first night's error is 1.338 K at a climatic spread of
3.5 K: 86.5 % of first-night minima within 2 K (Met Office, 119 sites) [K]."""

HORIZON_DAYS = 14.0
"""Beyond it climate stands alone (Stern and Davidson 2015: limited skill to day 14) [days]."""

SHORTEST_LEAD_DAYS = 0.25


@dataclass(frozen=True, slots=True)
class Skill:
    """How good forecasts are: published figures, or those refitted on the circle's own nights.

    Attributes
    ----------
    days : fall of the explained variance with lead [days]
    site_error_k : spread of the place itself [K]
    shift_k : how much warmer the place's nights are than forecast, as learned there [K]
    """

    days: float = SKILL_DAYS
    site_error_k: float = SITE_ERROR_K
    shift_k: float = 0.0


PUBLISHED = Skill()


@dataclass(frozen=True, slots=True)
class Blend:
    """A predictive normal.

    Attributes
    ----------
    mean_c, sd_k : [degrees C, K]
    weight : share the forecast has in the mean, 0 for climate alone
    """

    mean_c: float
    sd_k: float
    weight: float


def explained(lead_days: float, skill: Skill = PUBLISHED) -> float:
    """Give the share of the variance that a forecast explains at a lead: exp(-lead / 8.656)."""
    return math.exp(-max(lead_days, SHORTEST_LEAD_DAYS) / skill.days)


def lead_spread(lead_days: float, climate_sd_k: float, skill: Skill = PUBLISHED) -> float:
    """Give the spread of the weather about a forecast drawn toward climate.

    s = sqrt(s_c^2 (1 - R2) + site^2), never above the climatic spread, growing with the lead.

    Parameters
    ----------
    lead_days : from the issue to the minimum [days]
    climate_sd_k : [K]
    skill : how good forecasts are

    Returns
    -------
    spread : [K]
    """
    if lead_days > HORIZON_DAYS:
        return climate_sd_k
    model = climate_sd_k * climate_sd_k * (1.0 - explained(lead_days, skill))
    return min(climate_sd_k, math.sqrt(model + skill.site_error_k**2))


def at_lead(
    forecast_c: float,
    climate_c: float,
    climate_sd_k: float,
    lead_days: float,
    *,
    regressed: bool = False,
    skill: Skill = PUBLISHED,
) -> Blend:
    """Join a forecast with climate at a lead.

    A raw model forecast varies as much as the weather itself, so what is to be expected of the
    weather lies sqrt(R2) of the way from climate to it, with the spread s_c sqrt(1 - R2). A
    regressed forecast has been drawn toward climate by its service already and is not drawn a second
    time. Both carry the error of the site. Beyond the horizon the answer is climate exactly.

    Parameters
    ----------
    forecast_c : night minimum as the service has it [degrees C]
    climate_c, climate_sd_k : the usual night minimum and its spread [degrees C, K]
    lead_days : from the issue to the minimum [days]
    regressed : whether the service post-processes its figures
    skill : how good forecasts are
    """
    if lead_days > HORIZON_DAYS:
        return Blend(climate_c, climate_sd_k, 0.0)
    share = explained(lead_days, skill)
    spread = lead_spread(lead_days, climate_sd_k, skill)
    if regressed:
        return Blend(forecast_c, spread, 1.0)
    weight = math.sqrt(share)
    return Blend(weight * forecast_c + (1.0 - weight) * climate_c, spread, weight)


def of_members(members: Sequence[float], site_error_k: float = SITE_ERROR_K) -> tuple[float, float]:
    """Give mean [degrees C] and spread [K] of the members with the error of the site added.

    Raises
    ------
    ValueError
        without members
    """
    if not members:
        raise ValueError("An ensemble needs members.")
    mean = fmean(members)
    variance = math.fsum((member - mean) ** 2 for member in members) / len(members)
    return mean, math.sqrt(variance + site_error_k**2)


def chance_of_members(
    threshold_c: float, members: Sequence[float], site_error_k: float = SITE_ERROR_K
) -> float:
    """Give the chance of a minimum below the threshold, members with the error of the site each.

    Parameters
    ----------
    threshold_c : [degrees C]
    members : minima, shape (n,) [degrees C]
    site_error_k : [K]

    Raises
    ------
    ValueError
        without members
    """
    if not members:
        raise ValueError("An ensemble needs members.")
    return fmean(NormalDist(member, site_error_k).cdf(threshold_c) for member in members)


def chance_in(night: Night, threshold_c: float = 0.0) -> float:
    """Give the chance of a minimum below the threshold in a night, by its members where it has them.

    Parameters
    ----------
    threshold_c : [degrees C]
    """
    if night.sd_c <= 0.0:
        return float(night.mean_c < threshold_c)
    if not night.members:
        return NormalDist(night.mean_c, night.sd_c).cdf(threshold_c)
    return chance_of_members(threshold_c, night.members, _site_error(night))


def _site_error(night: Night) -> float:
    """Give what the spread of a night has beyond that of its members [K]."""
    variance = night.sd_c**2 - pvariance(night.members)
    return math.sqrt(variance) if variance > 0.0 else SITE_ERROR_K
