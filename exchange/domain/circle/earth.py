"""Distances over the earth."""

import math

EARTH_RADIUS_KM = 6371.0


def distance_km(origin: tuple[float, float], destination: tuple[float, float]) -> float:
    """Give the great-circle distance between two points.

    Parameters
    ----------
    origin, destination : latitude and longitude [degrees]

    Returns
    -------
    distance : [km]
    """
    lat1, lon1, lat2, lon2 = map(math.radians, (*origin, *destination))
    chord = (
        math.sin((lat2 - lat1) / 2.0) ** 2
        + math.cos(lat1) * math.cos(lat2) * math.sin((lon2 - lon1) / 2.0) ** 2
    )
    return 2.0 * EARTH_RADIUS_KM * math.asin(min(1.0, math.sqrt(chord)))
