"""The coming nights of every place, from what is kept and what is packaged."""

from collections.abc import Collection
from datetime import date, datetime, timedelta
from zoneinfo import ZoneInfo

from exchange.domain.circle.place import Place
from exchange.domain.weather.climate import Climate
from exchange.domain.weather.forecast import Outlook
from exchange.domain.weather.frost import safe_date
from exchange.domain.weather.outlook import outlook
from exchange.domain.weather.spot import climate_at
from exchange.records import PLACES, Tx, forecasts_kept
from exchange.reference.stations import climate_near

NIGHTS_AHEAD = 40
"""Nights looked at: the posting strip of three weeks, the journey and the first nights after it."""


def outlooks(
    tx: Tx, circle_id: int, now: datetime, place_ids: Collection[int] | None = None
) -> dict[int, Outlook]:
    """Give the coming nights of every place of the circle, or of some [place id -> outlook]."""
    forecasts = forecasts_kept.latest(tx, circle_id, place_ids)
    wanted = {} if place_ids is None else {"id": set(place_ids)}
    found = {}
    for place in PLACES.all(tx, circle_id, **wanted):
        first = now.astimezone(ZoneInfo(place.zone)).date() - timedelta(days=1)
        climate = climate_near(place.latitude, place.longitude)
        found[place.id] = outlook(
            place, forecasts.get(place.id), climate, (first, NIGHTS_AHEAD), now
        )
    return found


def safe_from(place: Place, year: int) -> date | None:
    """Give the day after which a frost is unlikely at a place, or None when it is not known."""
    climate: Climate | None = climate_near(place.latitude, place.longitude)
    if climate is None:
        return None
    found = safe_date(climate_at(place, climate), year)
    return None if found is None else found.day
