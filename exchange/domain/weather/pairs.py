"""Kept forecasts paired with what was observed, one for each night and lead, for comparing and refitting."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from exchange.domain.weather.blend import HORIZON_DAYS, PUBLISHED, Skill
from exchange.domain.weather.climate import Climate, Spot, climate_at, usual_night
from exchange.domain.weather.compare import VerifiedNight
from exchange.domain.weather.corrected import corrected_for
from exchange.domain.weather.daily import DayRead
from exchange.domain.weather.forecast import Forecast, WeatherSource
from exchange.domain.weather.outlook import outlook
from exchange.domain.weather.refit import KeptNight


@dataclass(frozen=True, slots=True)
class ForecastAndObservation:
    """One night of a kept forecast with what came.

    Attributes
    ----------
    compared : what was said of it, for the scores
    kept : what the service had said, for refitting; its forecast before any blending
    """

    compared: VerifiedNight
    kept: KeptNight


def observed_nights(days: Iterable[DayRead]) -> dict[date, float]:
    """Give the minimum of each night of a daily file, by the day on which the night began."""
    return {read.day - timedelta(days=1): read.minimum_c for read in days}


def pairs(
    place: Spot,
    forecasts: Sequence[Forecast],
    climate: Climate,
    observed: Mapping[date, float],
    skill: Skill = PUBLISHED,
) -> tuple[ForecastAndObservation, ...]:
    """Pair every kept forecast of a place with the nights observed there.

    Of several forecasts for one night with the same lead in whole days the first fetched counts, so
    that frequent fetching gives no extra weight. Nights the forecast had not whole, or only climate for, are
    left out.

    Parameters
    ----------
    place : where
    forecasts : kept for the place, oldest first
    climate : of the nearest station, not yet corrected for the place
    observed : minima by the day on which the night began [degrees C]
    skill : with which the nights were, or would be, said
    """
    found: dict[tuple[date, int], ForecastAndObservation] = {}
    for forecast in forecasts:
        for pair in _pairs_of(place, forecast, climate, observed, skill):
            key = (pair.compared.night, round(pair.compared.lead_days))
            found.setdefault(key, pair)
    return tuple(found[key] for key in sorted(found))


def _pairs_of(
    place: Spot,
    forecast: Forecast,
    climate: Climate,
    observed: Mapping[date, float],
    skill: Skill,
) -> Iterable[ForecastAndObservation]:
    told, _notes = corrected_for(forecast, place, forecast.issued_at)
    if told is None:
        return
    both = sorted(told.minima.keys() & observed.keys())
    if not both:
        return
    local = climate_at(place, climate, forecast.grid_height_m)
    span = (both[0], (both[-1] - both[0]).days + 1)
    seen = outlook(place, forecast, climate, span, forecast.issued_at, skill)
    for night in both:
        lead, said = told.lead_days(night), seen.night(night)
        if not 0.0 < lead <= HORIZON_DAYS:
            continue
        if said is None or said.source is not WeatherSource.FORECAST:
            continue
        whole = told.night(night)
        if whole is None or not whole.whole:
            continue
        usual = usual_night(local, night)
        yield ForecastAndObservation(
            VerifiedNight(
                night=night,
                lead_days=lead,
                mean_c=said.mean_c,
                sd_k=said.sd_c,
                usual_c=usual.mean_c,
                usual_sd_k=usual.sd_k,
                observed_c=observed[night],
            ),
            KeptNight(
                lead_days=lead,
                forecast_c=told.minima[night],
                usual_c=usual.mean_c,
                usual_sd_k=usual.sd_k,
                observed_c=observed[night],
                regressed=forecast.regressed,
            ),
        )
