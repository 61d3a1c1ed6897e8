"""Sunrise and sunset.

References
----------
[1] Meeus 1998, Astronomical Algorithms, chapters 25 and 28, in the low-precision form (declination
    and equation of time from the mean longitude and anomaly of the sun).
"""

import math
from datetime import UTC, date, datetime, time, timedelta

HORIZON_DEG = -0.833
"""Height of the sun's centre at rising and setting: refraction and half its disc [degrees]."""

_J2000 = datetime(2000, 1, 1, 12, tzinfo=UTC)
_MINUTES_PER_DEGREE = 4.0


def sun_times(latitude: float, longitude: float, day: date) -> tuple[datetime, datetime] | None:
    """Give sunrise and sunset of a day, good to about two minutes below 65 degrees of latitude.

    Parameters
    ----------
    latitude, longitude : [degrees], east positive
    day : as counted at the place

    Returns
    -------
    times : instants, UTC, or None where the sun does not rise or does not set
    """
    midday = datetime.combine(day, time(12), UTC) - timedelta(hours=longitude / 15.0)
    declination, equation_min = _sun(midday)
    lat = math.radians(latitude)
    cosine = (math.sin(math.radians(HORIZON_DEG)) - math.sin(lat) * math.sin(declination)) / (
        math.cos(lat) * math.cos(declination)
    )
    if not -1.0 < cosine < 1.0:
        return None
    half_day = timedelta(minutes=_MINUTES_PER_DEGREE * math.degrees(math.acos(cosine)))
    transit = midday - timedelta(minutes=equation_min)
    return transit - half_day, transit + half_day


def _sun(at: datetime) -> tuple[float, float]:
    """Give the declination [radians] and the equation of time [min]."""
    days = (at - _J2000) / timedelta(days=1)
    anomaly = math.radians((357.529 + 0.98560028 * days) % 360.0)
    mean_longitude = (280.459 + 0.98564736 * days) % 360.0
    centre = 1.915 * math.sin(anomaly) + 0.020 * math.sin(2.0 * anomaly)
    longitude = math.radians(mean_longitude + centre)
    obliquity = math.radians(23.439 - 0.00000036 * days)
    declination = math.asin(math.sin(obliquity) * math.sin(longitude))
    ascension = math.degrees(
        math.atan2(math.cos(obliquity) * math.sin(longitude), math.cos(longitude))
    )
    apart = (mean_longitude - ascension + 180.0) % 360.0 - 180.0
    return declination, _MINUTES_PER_DEGREE * apart
