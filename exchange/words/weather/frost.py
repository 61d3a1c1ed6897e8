"""Frost dates, frost tonight and what is usual, in the members' words."""

from datetime import date, datetime

from exchange.domain.growing.season import Season
from exchange.domain.growing.variety import Species
from exchange.domain.weather.blend import chance_in
from exchange.domain.weather.climate import Climate
from exchange.domain.weather.compare import LeadResult
from exchange.domain.weather.forecast import Night, WeatherSource
from exchange.domain.weather.frost import Frost, SafeDate, Thermometer, day_of
from exchange.domain.weather.refit import Refitted
from exchange.domain.weather.sunset import DISAGREE_FROM, Tonight
from exchange.words.kernel import dates
from exchange.words.kernel.chances import in_hundred
from exchange.words.kernel.phrase import NBSP, counted

EIGHT_IN_TEN = 1.2816
"""Half-width of the middle 80 % of a normal, in standard deviations (table of the normal)."""

_THERMOMETERS = {
    Thermometer.SCREEN: "air frost",
    Thermometer.GRASS: "ground frost",
}


RARE = 0.1
"""Share of springs, or autumns, that the safe date and the first frost are told for."""


def frost(value: Frost) -> str:
    """Give "air frost (below 0 °C in the screen)"."""
    name = _THERMOMETERS[value.thermometer]
    where = "in the screen" if value.thermometer is Thermometer.SCREEN else "over short grass"
    bound = "{degrees} or less" if value.at_threshold else "below {degrees}"
    degrees = dates.degrees(value.threshold_c, step=0.1)
    return f"{name} ({bound.format(degrees=degrees)} {where})"


def safe_date(value: SafeDate | None) -> str:
    """Give the safe date with what stands behind it, as a sentence; a station's dates hold to a fortnight."""
    if value is None:
        return (
            f"Frost comes here in over {in_hundred(RARE)} springs right up to the height of summer."
        )
    sentence = "From about {day} on, {frost} comes in {share} springs or fewer, reckoned from the years {years}."
    return sentence.format(
        day=about(value.day),
        frost=frost(value.frost),
        share=in_hundred(value.exceedance),
        years=_years(value.base_period),
    )


def frost_free(value: SafeDate) -> str:
    """Say in how many springs no frost comes at all from New Year on."""
    return f"{in_hundred(1.0 - value.frost_share)} springs have none"


def planting_out(value: Season) -> tuple[str, ...]:
    """Say, a sentence each, when plants may go out, and what keeps under glass."""
    usual = value.planting_out
    if usual is None:
        return (
            "Nights here are too cold for tender plants out of doors: they keep better under glass.",
        )
    first = f"Dahlias, pelargoniums, fuchsias and tender salvias go out from about {about(usual)}"
    cover = value.ground_frost_rare
    if cover is not None and cover > usual:
        first += f", with fleece at hand until about {about(cover)}"
    said = [f"{first}."]
    tuberous = value.out_from(Species.TUBEROUS_BEGONIA)
    if tuberous is not None and tuberous > usual:
        said.append(f"Tuberous begonias go out from about {about(tuberous)}.")
    coleus = value.out_from(Species.COLEUS)
    said.append(
        "Coleus and foliage begonias keep better under glass here: warm nights are too few."
        if coleus is None
        else f"Coleus and foliage begonias go out from about {about(coleus)}, or keep under glass."
    )
    return tuple(said)


def autumn(value: Season) -> str:
    """Say when the first frost of autumn comes, as far as it comes at all."""
    if value.first_frost is None:
        return "An air frost before New Year is rare here."
    said = (
        f"By about {about(value.first_frost)} an air frost has come in {in_hundred(RARE)} autumns"
    )
    if value.usual_frost is None:
        return f"{said}."
    return f"{said}, by about {about(value.usual_frost)} in {in_hundred(0.5)}."


def frost_seen(day: int) -> str:
    """Say that what the grower has seen stands above the station."""
    seen = about(day_of(2001, day))
    return f"You say that frost is rare from {seen} on. That stands, and moves the other dates of spring with it."


def stations_differ(near: str, near_day: date, other: str, other_day: date) -> str:
    """Say that two stations disagree: "Nairn says about 11 June, Braemar about 22 June."."""
    return f"{near} says about {about(near_day)}, {other} about {about(other_day)}: say which week it is with you."


def about(day: date) -> str:
    """Give a day by the station without its weekday, to stand after "about": "18 May"."""
    return f"{day.day}{NBSP}{dates.month(day)}"


def springs(share: float) -> str:
    """Give "10 in 100 springs"."""
    return f"{in_hundred(share)} springs"


def no_climate(farthest_km: float) -> str:
    """Say that nothing is known of usual nights so far from every station."""
    return (
        "No weather station lies within {distance}, so it is unknown what is usual here and when the "
        "last frost comes. A daily file of your own can tell it."
    ).format(distance=f"{round(farthest_km)}{NBSP}km")


def climate(value: Climate) -> str:
    """Give where the usual nights come from, as a sentence."""
    if value.distance_km == 0.0:
        return f"Usual nights by {value.name}, {_years(value.base_period)}."
    return "Usual nights of the weather station {name}, {distance} away, {years}.".format(
        name=value.name,
        distance=f"{round(value.distance_km)}{NBSP}km",
        years=_years(value.base_period),
    )


def tonight(value: Tonight, sunset: datetime) -> str:
    """Say what this evening's reading means, naming sunset in the reader's zone."""
    if not value.holds:
        return "In wind or under cloud an evening reading says little of the night; go by the forecast."
    return (
        f"On a clear, still night like this it may fall to about {dates.degrees(value.minimum_c)} by sunrise, 80 in 100 such "
        f"nights between {dates.degrees(value.minimum_c - EIGHT_IN_TEN * value.sd_k)} and {dates.degrees(value.minimum_c + EIGHT_IN_TEN * value.sd_k)}; frost about {in_hundred(value.frost_chance)}. Sunset: {dates.hour(sunset)}."
    )


def tonight_otherwise(night: Night) -> str:
    """Say what the forecast, or the usual night, has beside an evening's reading."""
    by = "the usual night" if night.source is WeatherSource.CLIMATE else "the forecast"
    return f"By {by} about {dates.degrees(night.mean_c)}, frost {in_hundred(chance_in(night))}."


def go_by(value: Tonight, night: Night | None) -> str:
    """Say which of two answers is used, the worse; nothing where there is one answer only."""
    if night is None or not value.holds:
        return ""
    chances = (value.frost_chance, chance_in(night))
    apart = "The two disagree. " if max(chances) - min(chances) >= DISAGREE_FROM else ""
    return f"{apart}Go by the worse: frost {in_hundred(max(chances))}."


def lead_result(value: LeadResult) -> str:
    """Say how forecasts of one lead did, against what is usual."""
    better = 1.0 - value.crps_k / value.usual_crps_k if value.usual_crps_k else 0.0
    lead = counted(value.lead_days, "day", "days")
    nights = counted(value.nights, "night", "nights")
    if better > 0.0:
        sentence = (
            "{lead} ahead: {share} in 100 closer than the usual night would have been ({nights})."
        )
        return sentence.format(lead=lead, share=round(better * 100), nights=nights)
    return f"{lead} ahead: no closer than the usual night ({nights})."


def refitted(value: Refitted) -> str:
    """Say what refitting would change, old beside new."""
    if value.after == value.before:
        return "The spread in use fits your {nights} best; nothing changes.".format(
            nights=counted(value.nights, "night", "nights")
        )
    return "Mean miss over {nights}: {before} K with the spread in use, {after} K with the new one.".format(
        nights=counted(value.nights, "night", "nights"),
        before=f"{value.crps_before_k:.2f}",
        after=f"{value.crps_after_k:.2f}",
    )


def _years(base_period: str) -> str:
    return base_period.replace("-", " to ").replace(" ", NBSP)
