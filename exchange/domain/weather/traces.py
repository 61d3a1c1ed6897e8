"""Hourly temperatures rebuilt where only minima and maxima are known.

By day a sine, by night an exponential decay after Parton and Logan 1981 (Agricultural Meteorology
23:205), bent so that it reaches the minimum at sunrise instead of stopping 11 % short of it.
"""

import math
from dataclasses import dataclass

DECAY = 2.2
"""Decay of the night course, Parton and Logan 1981, thermometer at 1.5 m."""

LAG_H = 1.86
"""How long after solar noon the day is warmest, the same [h]."""


@dataclass(frozen=True, slots=True)
class Course:
    """One day and the night that follows it.

    Attributes
    ----------
    minimum_before_c : at sunrise of the day [degrees C]
    maximum_c : of the day [degrees C]
    minimum_c : at the next sunrise [degrees C]
    daylight_h : from sunrise to sunset [h]
    """

    minimum_before_c: float
    maximum_c: float
    minimum_c: float
    daylight_h: float

    @property
    def night_h(self) -> float:
        """Length of the night [h]."""
        return 24.0 - self.daylight_h

    @property
    def at_sunset_c(self) -> float:
        """Temperature at sunset [degrees C]."""
        return _by_day(self, self.daylight_h)


def temperature(course: Course, hours_after_sunrise: float) -> float:
    """Give the temperature so many hours after sunrise, 0 to 24 [degrees C].

    By day Tn + (Tx - Tn) sin(pi t / (D + 2a)). By night Tn + (Ts - Tn) (exp(-b x) - exp(-b)) /
    (1 - exp(-b)), x from 0 at sunset to 1 at sunrise, so the next minimum is reached exactly.

    Raises
    ------
    ValueError
        outside the 24 hours, or without both day and night
    """
    if not 0.0 <= hours_after_sunrise <= 24.0:
        raise ValueError("A course runs for 24 hours from sunrise.")
    if not 0.0 < course.daylight_h < 24.0:
        raise ValueError("A course needs a day and a night.")
    if hours_after_sunrise <= course.daylight_h:
        return _by_day(course, hours_after_sunrise)
    share = (hours_after_sunrise - course.daylight_h) / course.night_h
    return night_decay(course.at_sunset_c, course.minimum_c, share)


def night_decay(at_sunset_c: float, minimum_c: float, share: float) -> float:
    """Give the temperature after a share of the night, 0 at sunset to 1 at sunrise [degrees C]."""
    left = (math.exp(-DECAY * share) - math.exp(-DECAY)) / (1.0 - math.exp(-DECAY))
    return minimum_c + (at_sunset_c - minimum_c) * left


def half_wave(start_c: float, end_c: float, share: float) -> float:
    """Give the temperature along half a cosine wave, from share 0 to 1 [degrees C]."""
    return end_c + (start_c - end_c) * (1.0 + math.cos(math.pi * share)) / 2.0


def _by_day(course: Course, hours: float) -> float:
    angle = math.pi * hours / (course.daylight_h + 2.0 * LAG_H)
    swing = course.maximum_c - course.minimum_before_c
    return course.minimum_before_c + swing * math.sin(angle)
