"""Daily minima of invented stations: a yearly wave and nights correlated with the nights before.

Process: mean 8 - 8 cos(2 pi (day - 20) / 365.25) less the station's cold, plus 3.5 K times an autoregression
of 0.65 a day; stations share half the variance of each night's news. In the units and the range of
lowland stations of north-west Europe; no station's values are used.
"""

import math
from datetime import date, timedelta

import numpy as np

CARRIED, SPREAD_K, SHARED = 0.65, 3.5, 0.5


def daily_minima(colds=(1.0, 3.0), years=range(2001, 2009), seed=5):
    chance = np.random.default_rng(seed)
    first, last = date(min(years), 1, 1), date(max(years), 12, 31)
    state = np.zeros(len(colds))
    series = {f"station {n}": {} for n in range(len(colds))}
    for number in range((last - first).days + 1):
        day = first + timedelta(days=number)
        news = math.sqrt(SHARED) * chance.standard_normal() + math.sqrt(1 - SHARED) * (
            chance.standard_normal(len(colds))
        )
        state = CARRIED * state + math.sqrt(1 - CARRIED**2) * news
        season = 8 - 8 * math.cos(2 * math.pi * (day.timetuple().tm_yday - 20) / 365.25)
        for place, cold in enumerate(colds):
            low = season - cold + SPREAD_K * state[place]
            series[f"station {place}"][day] = round(float(low), 1)
    return series
