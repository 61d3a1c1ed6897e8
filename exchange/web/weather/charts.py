"""The charts of the weather pages: the coming nights, and how often frost came as forecast."""

from exchange.actions.weather.page_weather import NIGHTS_SHOWN, PlaceWeather
from exchange.domain.weather.blend import chance_in
from exchange.domain.weather.compare import LeadResult
from exchange.domain.weather.forecast import Night, WeatherSource
from exchange.web.frame.chart_figure import Words
from exchange.web.weather.chart_nights import NightBar, NightsView, draw_nights
from exchange.web.weather.chart_reliability import ReliabilityView, Tenth, draw_reliability
from exchange.words.kernel import dates
from exchange.words.kernel.chances import in_hundred
from exchange.words.weather import forecast_verification
from exchange.words.weather.frost import EIGHT_IN_TEN

_TOLD_BY = {
    WeatherSource.FORECAST: "forecast",
    WeatherSource.CLIMATE: "usual",
}


def coming_nights(weather: PlaceWeather) -> NightsView | None:
    """Draw the coming nights of a place; None where none is known."""
    nights = weather.nights(NIGHTS_SHOWN)
    if not nights:
        return None
    bars = [
        NightBar(dates.weekday(one.day), str(one.day.day), one.mean_c, _span(one)) for one in nights
    ]
    frosty = [one.day for one in nights if _span(one)[0] < 0.0]
    return draw_nights(
        bars,
        Words(
            title=f"The next nights at {weather.place.name}, {weather.place.town}",
            description=f"Frost may come in the nights of {dates.days(frosty)}."
            if frosty
            else "No night shown is likely to bring frost.",
            caption="Night by night",
            heads=("Night of", "Likely low", "80 in 100 nights", "Frost", "Told by"),
            rows=tuple(_row(one) for one in nights),
        ),
    )


def reliability(result: LeadResult) -> ReliabilityView:
    """Draw how often frost came at one lead, by the chance that had been said."""
    return draw_reliability(
        [Tenth(one.stated, one.came, one.nights) for one in result.table],
        Words(
            title=f"Said and come, {forecast_verification.lead(result)}",
            description="On the slanting line frost came as often as it was said.",
            caption=f"Said and come, {forecast_verification.lead(result)}",
            heads=("Said, in 100", "Mean said", "Came", "Nights"),
            rows=tuple(
                (
                    f"{round(one.low * 100)} to {round(one.high * 100)}",
                    f"{one.stated * 100:.0f}",
                    f"{one.came * 100:.0f}",
                    one.nights,
                )
                for one in result.table
            ),
        ),
        "said, in 100; upward: came",
    )


def _span(night: Night) -> tuple[float, float]:
    reach = EIGHT_IN_TEN * night.sd_c
    return night.mean_c - reach, night.mean_c + reach


def _row(night: Night) -> tuple[str, ...]:
    low, high = _span(night)
    return (
        dates.day(night.day),
        dates.degrees(night.mean_c, 0.5),
        f"{dates.degrees(low, 0.5)} to {dates.degrees(high, 0.5)}",
        in_hundred(chance_in(night)),
        _TOLD_BY[night.source],
    )
