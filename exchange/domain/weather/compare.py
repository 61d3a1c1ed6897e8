"""How the forecast did: kept forecasts against what was observed, by lead time."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from statistics import NormalDist, fmean

from exchange.domain.weather.scoring import Bin, Brier, brier, crps_normal, reliability_table

_STEPS = 20


@dataclass(frozen=True, slots=True)
class VerifiedNight:
    """One night of which both a forecast and an observation are known.

    Attributes
    ----------
    lead_days : from the issue to the minimum [days]
    mean_c, sd_k : what was said, as a predictive normal [degrees C, K]
    usual_c, usual_sd_k : what climate alone would have said [degrees C, K]
    observed_c : what came [degrees C]
    """

    night: date
    lead_days: float
    mean_c: float
    sd_k: float
    usual_c: float
    usual_sd_k: float
    observed_c: float


@dataclass(frozen=True, slots=True)
class LeadResult:
    """How forecasts of one lead did.

    Attributes
    ----------
    lead_days : rounded to whole days [days]
    nights : how many [nights]
    crps_k, usual_crps_k : mean CRPS of the forecast and of climate alone, smaller is better [K]
    too_warm_k : mean of forecast less observation [K]
    frost : Brier score of the frost chance with its parts, chances rounded to twentieths
    table : stated and observed shares of frost by tenths
    """

    lead_days: int
    nights: int
    crps_k: float
    usual_crps_k: float
    too_warm_k: float
    frost: Brier
    table: tuple[Bin, ...]


def results_by_lead(
    compared: Sequence[VerifiedNight], threshold_c: float = 0.0
) -> tuple[LeadResult, ...]:
    """Give the scores for each lead in whole days, shortest first; empty without nights.

    Parameters
    ----------
    compared : in any order
    threshold_c : below it counts as frost [degrees C]
    """
    leads: dict[int, list[VerifiedNight]] = {}
    for one in compared:
        leads.setdefault(max(1, math.floor(one.lead_days + 0.5)), []).append(one)
    return tuple(_score(lead, leads[lead], threshold_c) for lead in sorted(leads))


def _score(lead: int, nights: Sequence[VerifiedNight], threshold_c: float) -> LeadResult:
    chances = [NormalDist(one.mean_c, one.sd_k).cdf(threshold_c) for one in nights]
    frosts = [one.observed_c < threshold_c for one in nights]
    return LeadResult(
        lead_days=lead,
        nights=len(nights),
        crps_k=fmean(crps_normal(one.observed_c, one.mean_c, one.sd_k) for one in nights),
        usual_crps_k=fmean(
            crps_normal(one.observed_c, one.usual_c, one.usual_sd_k) for one in nights
        ),
        too_warm_k=fmean(one.mean_c - one.observed_c for one in nights),
        frost=brier([round(chance * _STEPS) / _STEPS for chance in chances], frosts),
        table=reliability_table(chances, frosts),
    )
