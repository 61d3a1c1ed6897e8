"""Moist air: vapour pressure, dew point and wet bulb, all over water as weather services report.

References
----------
[1] FAO Irrigation and Drainage Paper 56, chapter 3, equations 7, 8, 11 and 15.
"""

import math


def vapour_pressure(temperature_c: float) -> float:
    """Give the saturation vapour pressure over water, FAO-56 equation 11 [kPa].

    Parameters
    ----------
    temperature_c : air temperature [degrees C]
    """
    return 0.6108 * math.exp(17.27 * temperature_c / (temperature_c + 237.3))


def dew_point(vapour_pressure_kpa: float) -> float:
    """Give the dew point of air with this vapour pressure, the inverse of equation 11 [degrees C].

    Raises
    ------
    ValueError
        when the pressure is not positive
    """
    if vapour_pressure_kpa <= 0.0:
        raise ValueError("A vapour pressure is positive.")
    logarithm = math.log(vapour_pressure_kpa / 0.6108)
    return 237.3 * logarithm / (17.27 - logarithm)


def dew_point_of(temperature_c: float, humidity_pct: float) -> float:
    """Give the dew point from air temperature [degrees C] and relative humidity [%]."""
    return dew_point(vapour_pressure(temperature_c) * humidity_pct / 100.0)


def air_pressure(height_m: float) -> float:
    """Give the usual air pressure at a height, FAO-56 equation 7 [kPa]."""
    return 101.3 * math.pow((293.0 - 0.0065 * height_m) / 293.0, 5.26)


def vapour_from_wet_bulb(dry_c: float, wet_c: float, pressure_kpa: float = 101.3) -> float:
    """Give the vapour pressure from a ventilated pair of thermometers, FAO-56 equation 15 [kPa].

    Parameters
    ----------
    dry_c, wet_c : readings of the two thermometers [degrees C]
    pressure_kpa : [kPa]
    """
    return vapour_pressure(wet_c) - 0.000662 * pressure_kpa * (dry_c - wet_c)


def wet_bulb(temperature_c: float, humidity_pct: float, pressure_kpa: float = 101.3) -> float:
    """Give the wet-bulb temperature that solves the psychrometer equation, by bisection [degrees C].

    Parameters
    ----------
    temperature_c : [degrees C]
    humidity_pct : relative humidity [%]
    pressure_kpa : [kPa]
    """
    wanted = vapour_pressure(temperature_c) * humidity_pct / 100.0
    low, high = temperature_c - 60.0, temperature_c
    for _halving in range(60):
        middle = (low + high) / 2.0
        if vapour_from_wet_bulb(temperature_c, middle, pressure_kpa) < wanted:
            low = middle
        else:
            high = middle
    return (low + high) / 2.0
