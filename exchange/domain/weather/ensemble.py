"""Nights told by an ensemble: its members as they are, each with the error of the site."""

import math
from collections.abc import Sequence
from statistics import fmean

from exchange.domain.weather.blend import SITE_ERROR_K
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
