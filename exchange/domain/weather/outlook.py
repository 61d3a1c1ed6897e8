"""The coming nights of one place, out of its forecast and its climate."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from enum import StrEnum

from exchange.domain.weather.blend import HORIZON_DAYS, at_lead, lead_spread
from exchange.domain.weather.climate import (
    DEFAULT_SPREAD_K,
    LAPSE_K_PER_M,
    Climate,
    UsualNight,
    usual_night,
)
from exchange.domain.weather.forecast import Forecast, Night, Outlook, WeatherSource
from exchange.domain.weather.nights import day_highs, night_bounds, night_minima
from exchange.domain.weather.spot import LIE_SHIFT_K, Spot, climate_at

RAW_COLD_CORRECTION_K = 0.5
"""Taken from raw model minima, which are mostly too warm (Lopes et al. 2024; size: judgement)."""

OLDEST_FORECAST = timedelta(days=5)
"""An older forecast is not used (judgement)."""

_COMING_MINIMUM_BEFORE_NOON = timedelta(hours=6)
_CLOCKS_DIFFER_BY = timedelta(hours=2)
_BELIEVABLE_SPREADS = 5.0
_WITHOUT_FORECAST = (WeatherSource.CLIMATE, WeatherSource.NONE)


class Note(StrEnum):
    """What a reader of an outlook must know; each value is the sentence itself."""

    NO_HEIGHT = "no height was given, so the cold is not corrected for it"
    HEIGHT_FROM_FORECAST = "the height is the forecast's own, nobody has given one"
    NO_FORECAST = "there is no forecast; these are usual nights for the time of year"
    NO_CLIMATE = "no weather station lies near enough to tell what is usual here"
    OLD = "the forecast is older than it should be"
    TOO_OLD = "the forecast is too old to use"
    FROM_THE_FUTURE = "the forecast claims to be from the future and is not used"
    NOT_BELIEVABLE = "some nights of the forecast are beyond belief; the usual night stands instead"
    GAPS = "some nights of the forecast are not complete; the colder of what is known and what is usual stands"
    NOTHING = "neither a forecast nor what is usual is known, so nothing can be said of the cold"


@dataclass(frozen=True, slots=True)
class _Told:
    """What the forecast tells of the place, corrected for height and lie.

    `at_most` holds the lowest reading of every night, whole or not.
    """

    minima: Mapping[date, float]
    at_most: Mapping[date, float]
    highs: Mapping[date, float]
    forecast: Forecast


def outlook(
    place: Spot,
    forecast: Forecast | None,
    climate: Climate | None,
    span: tuple[date, int],
    now: datetime,
) -> Outlook:
    """Give the coming nights of a place.

    Parameters
    ----------
    place : where
    forecast : for this place, or None
    climate : of the nearest station, not yet corrected for the height of the place, or None
    span : the first night and how many [nights]
    now : instant, with its zone

    Returns
    -------
    outlook : the nights known without a gap, each a predictive normal, and the notes

    Raises
    ------
    ValueError
        when the forecast is for another place
    """
    if forecast is not None and forecast.place_id != place.id:
        raise ValueError("This forecast is for another place.")
    told, notes = _told(place, forecast, now)
    height = told.forecast.grid_height_m if told else None
    local = climate_at(place, climate, height) if climate else None
    notes += _notes_on_height(place, height, local)
    nights, doubts = _nights(place, told, local, span)
    source = _source(nights)
    behind = told.forecast if told and source not in _WITHOUT_FORECAST else None
    return Outlook(
        place_id=place.id,
        nights=nights,
        source=source,
        issued_at=behind.issued_at if behind else None,
        attribution=_attribution(behind, local),
        notes=tuple(dict.fromkeys((*notes, *doubts))) if nights else (*notes, Note.NOTHING),
    )


def _told(
    place: Spot, forecast: Forecast | None, now: datetime
) -> tuple[_Told | None, tuple[str, ...]]:
    if forecast is None:
        return None, (Note.NO_FORECAST,)
    if forecast.issued_at > now + _CLOCKS_DIFFER_BY:
        return None, (Note.FROM_THE_FUTURE, Note.NO_FORECAST)
    if now - forecast.issued_at > OLDEST_FORECAST:
        return None, (Note.TOO_OLD, Note.NO_FORECAST)
    lift = _height_correction(place, forecast)
    cold = 0.0 if forecast.regressed else RAW_COLD_CORRECTION_K
    night_shift = lift + LIE_SHIFT_K[place.lie] - cold
    minima = night_minima(forecast.readings, place.zone)
    at_most = night_minima(forecast.readings, place.zone, whole=False)
    highs = day_highs(forecast.readings, place.zone)
    told = _Told(
        minima={day: value + night_shift for day, value in minima.items()},
        at_most={day: value + night_shift for day, value in at_most.items()},
        highs={day: value + lift for day, value in highs.items()},
        forecast=forecast,
    )
    return told, (Note.OLD,) * (forecast.expires_at < now) + forecast.lacks


def _height_correction(place: Spot, forecast: Forecast) -> float:
    if place.height_m is None or forecast.grid_height_m is None:
        return 0.0
    return -LAPSE_K_PER_M * (place.height_m - forecast.grid_height_m)


def _notes_on_height(place: Spot, height: float | None, local: Climate | None) -> tuple[str, ...]:
    no_climate = (Note.NO_CLIMATE,) if local is None else ()
    if place.height_m is not None:
        return no_climate
    return (*no_climate, Note.NO_HEIGHT if height is None else Note.HEIGHT_FROM_FORECAST)


def _nights(
    place: Spot, told: _Told | None, local: Climate | None, span: tuple[date, int]
) -> tuple[tuple[Night, ...], tuple[str, ...]]:
    first, count = span
    nights: list[Night] = []
    doubts: list[str] = []
    for offset in range(count):
        day = first + timedelta(days=offset)
        usual = usual_night(local, day) if local else None
        night, doubt = _night(place, told, usual, day)
        if doubt:
            doubts.append(doubt)
        if night is not None:
            nights.append(night)
        elif nights:
            break
    return tuple(nights), tuple(doubts)


def _night(
    place: Spot, told: _Told | None, usual: UsualNight | None, day: date
) -> tuple[Night | None, str]:
    climatic = _usual(day, usual)
    if told is None:
        return climatic, ""
    lead = _lead_days(told.forecast, day, place.zone)
    if lead > HORIZON_DAYS:
        return climatic, ""
    minimum, doubt = _minimum(told, usual, day)
    if minimum is None:
        return climatic, doubt
    if usual is None:
        spread = lead_spread(lead, DEFAULT_SPREAD_K)
        high = told.highs.get(day, minimum)
        return Night(day, minimum, spread, high, WeatherSource.FORECAST), doubt
    if abs(minimum - usual.mean_c) > _BELIEVABLE_SPREADS * usual.sd_k:
        return climatic, Note.NOT_BELIEVABLE
    joined = at_lead(minimum, usual.mean_c, usual.sd_k, lead, regressed=told.forecast.regressed)
    high = told.highs.get(day, usual.day_high_c)
    day_high = joined.weight * high + (1.0 - joined.weight) * usual.day_high_c
    return Night(day, joined.mean_c, joined.sd_k, day_high, WeatherSource.FORECAST), doubt


def _usual(day: date, usual: UsualNight | None) -> Night | None:
    if usual is None:
        return None
    return Night(day, usual.mean_c, usual.sd_k, usual.day_high_c, WeatherSource.CLIMATE)


def _lead_days(forecast: Forecast, day: date, zone: str) -> float:
    minimum_at = night_bounds(day, zone)[1] - _COMING_MINIMUM_BEFORE_NOON
    return (minimum_at - forecast.issued_at) / timedelta(days=1)


def _minimum(told: _Told, usual: UsualNight | None, day: date) -> tuple[float | None, str]:
    """Give the forecast minimum; an incomplete night counts only where it is colder than usual."""
    if day in told.minima:
        return told.minima[day], ""
    at_most = told.at_most.get(day)
    if at_most is None:
        return None, ""
    if usual is not None and at_most < usual.mean_c:
        return at_most, Note.GAPS
    return None, Note.GAPS


def _source(nights: tuple[Night, ...]) -> WeatherSource:
    sources = {night.source for night in nights}
    if not sources:
        return WeatherSource.NONE
    return WeatherSource.BOTH if len(sources) > 1 else sources.pop()


def _attribution(forecast: Forecast | None, local: Climate | None) -> str:
    parts = (forecast.attribution if forecast else "", local.attribution if local else "")
    return " ".join(part for part in parts if part)
