"""The growing year of a place, by its own daily file or the nearest station, and where stations disagree."""

from dataclasses import dataclass
from datetime import date

from exchange.domain.circle.place import Place
from exchange.domain.growing.season import Season, season
from exchange.domain.weather.climate import Climate
from exchange.domain.weather.spot import climate_at
from exchange.reference.stations import climate_near, climates_within

DISAGREE_DAYS = 10
"""Stations that give planting-out days further apart than this are both named (judgement) [days]."""


@dataclass(frozen=True, slots=True)
class StationSays:
    """The planting-out day at a place by one station."""

    station: str
    planting_out: date


def season_at(place: Place, year: int, own: Climate | None = None) -> Season | None:
    """Give the dates of a growing year at a place, or None when nothing is known of them.

    Parameters
    ----------
    own : what the place's own daily file tells, which stands above the nearest station
    """
    climate = own or climate_near(place.latitude, place.longitude)
    if climate is None:
        return None
    return season(climate_at(place, climate), year, place.frost_rare_day)


def disagreeing(place: Place, year: int) -> tuple[StationSays, ...]:
    """Give the nearest station and the next within 100 km that disagrees with it; nothing where none does.

    The station is the larger error: leaving each of 29 stations out, the nearest other was wrong by 14 days (rms).
    """
    said = [
        StationSays(climate.name, day)
        for climate in climates_within(place.latitude, place.longitude)
        if (day := season(climate_at(place, climate), year).planting_out) is not None
    ]
    for other in said[1:]:
        if abs((other.planting_out - said[0].planting_out).days) > DISAGREE_DAYS:
            return said[0], other
    return ()
