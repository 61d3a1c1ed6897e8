"""Frost dates, frost tonight and what is usual, in the members' words."""

from datetime import datetime

from exchange.domain.weather.climate import Climate
from exchange.domain.weather.compare import LeadResult
from exchange.domain.weather.frost import Frost, SafeDate, Thermometer
from exchange.domain.weather.refit import Refitted
from exchange.domain.weather.sunset import Tonight
from exchange.words.kernel import dates
from exchange.words.kernel.phrase import NBSP, counted

EIGHT_IN_TEN = 1.2816
"""Half-width of the middle 80 % of a normal, in standard deviations (table of the normal)."""

_THERMOMETERS = {
    Thermometer.SCREEN: "air frost",
    Thermometer.GRASS: "ground frost",
}


def frost(value: Frost) -> str:
    """Give "air frost (below 0 °C in the screen)"."""
    name = _THERMOMETERS[value.thermometer]
    where = "in the screen" if value.thermometer is Thermometer.SCREEN else "over short grass"
    bound = "{degrees} or less" if value.at_threshold else "below {degrees}"
    degrees = dates.degrees(value.threshold_c, step=0.1)
    return f"{name} ({bound.format(degrees=degrees)} {where})"


def safe_date(value: SafeDate | None) -> str:
    """Give the safe date with what stands behind it, as a sentence.

    The convention is named, since tables of frost dates differ in it.
    """
    if value is None:
        return "Frost comes here in more than 1 spring of 10 right up to the height of summer."
    sentence = (
        "From {day} on, {frost} comes in {share} springs of 100 or fewer, reckoned from the years "
        "{years} (the date exceeded in {share} %, that is the {percentile}th percentile)."
    )
    share = round(value.exceedance * 100)
    return sentence.format(
        day=dates.day(value.day),
        frost=frost(value.frost),
        share=share,
        percentile=100 - share,
        years=_years(value.base_period),
    )


def frost_free(value: SafeDate) -> str:
    """Say in how many springs no frost comes at all from New Year on."""
    share = round((1.0 - value.frost_share) * 100)
    if share < 1:
        return "under 1 in 100 springs has none"
    return f"{share} in 100 springs have none"


def exceedance(share: float) -> str:
    """Give "1 spring of 10 (10 % exceedance, the 90th percentile)"."""
    often = f"{round(share * 100)} of 100".replace(" ", NBSP)
    return f"{often} springs ({round(share * 100)} % exceedance, the {100 - round(share * 100)}th percentile)"


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
        f"On a clear, still night like this it may fall to about {dates.degrees(value.minimum_c)} by sunrise, in 8 nights of "
        f"10 between {dates.degrees(value.minimum_c - EIGHT_IN_TEN * value.sd_k)} and {dates.degrees(value.minimum_c + EIGHT_IN_TEN * value.sd_k)}; frost about {_in_hundred(value.frost_chance)}. Sunset: {dates.hour(sunset)}."
    )


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


def _in_hundred(chance: float) -> str:
    hundredths = min(99, max(1, round(chance * 100)))
    return f"{hundredths} in 100".replace(" ", NBSP)
