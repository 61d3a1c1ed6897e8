"""When a place is due to be asked for again."""

from datetime import datetime, timedelta

from exchange.domain.weather.forecast import Forecast

_SPREAD_MINUTES = 11


def is_due(forecast: Forecast | None, now: datetime, *, not_before: datetime | None = None) -> bool:
    """Say whether a place should be asked for.

    Never before the forecast kept expires, nor before the instant a source asked us to wait for. A
    few minutes that differ from place to place keep requests from falling on the hour all at once.

    Parameters
    ----------
    forecast : the latest kept for the place, or None
    now : instant
    not_before : wish of the source
    """
    if not_before is not None and now < not_before:
        return False
    if forecast is None:
        return True
    stagger = timedelta(minutes=forecast.place_id % _SPREAD_MINUTES)
    return now >= forecast.expires_at + stagger
