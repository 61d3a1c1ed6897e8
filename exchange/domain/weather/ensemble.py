"""Nights told by an ensemble: its members as they are, each with the error of the site."""

import math
from collections.abc import Sequence
from statistics import fmean, pvariance

from exchange.domain.weather.blend import SITE_ERROR_K
from exchange.domain.weather.forecast import Night
from exchange.domain.weather.normal import chance_below


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
    return fmean(chance_below(threshold_c, member, site_error_k) for member in members)


def chance_in(night: Night, threshold_c: float = 0.0) -> float:
    """Give the chance of a minimum below the threshold in a night, by its members where it has them.

    Parameters
    ----------
    threshold_c : [degrees C]
    """
    if night.sd_c <= 0.0:
        return float(night.mean_c < threshold_c)
    if not night.members:
        return chance_below(threshold_c, night.mean_c, night.sd_c)
    return chance_of_members(threshold_c, night.members, _site_error(night))


def _site_error(night: Night) -> float:
    """Give what the spread of a night has beyond that of its members [K]."""
    variance = night.sd_c**2 - pvariance(night.members)
    return math.sqrt(variance) if variance > 0.0 else SITE_ERROR_K
