"""Hourly temperatures rebuilt where only a minimum and an evening reading are known."""

import math


def half_wave(start_c: float, end_c: float, share: float) -> float:
    """Give the temperature along half a cosine wave, from share 0 to 1 [degrees C]."""
    return end_c + (start_c - end_c) * (1.0 + math.cos(math.pi * share)) / 2.0
