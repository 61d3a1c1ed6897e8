"""Which forecast services are asked, in what order."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class ForecastServices:
    """Where forecasts are fetched.

    Attributes
    ----------
    order : names of the services asked one after the other; empty fetches nothing
    contact : address the services may write to, sent with every request
    open_meteo, open_meteo_ensemble, met_norway, us_nws : base addresses
    saved_file : path of a saved forecast read instead of asking any service, or empty
    """

    order: tuple[str, ...] = ("open-meteo",)
    contact: str = ""
    open_meteo: str = "https://api.open-meteo.com"
    open_meteo_ensemble: str = "https://ensemble-api.open-meteo.com"
    met_norway: str = "https://api.met.no"
    us_nws: str = "https://api.weather.gov"
    saved_file: str = ""
