"""How the forecast did and what is learned from it, in the members' words."""

from exchange.domain.weather.blend import Skill
from exchange.domain.weather.compare import LeadResult
from exchange.words.kernel.phrase import NBSP, counted


def kelvin(value: float) -> str:
    """Give "1.34 K"."""
    return f"{value:.2f}{NBSP}K".replace("-", "\u2212")


def lead(value: LeadResult) -> str:
    """Give "3 days ahead"."""
    return "{days} ahead".format(days=counted(value.lead_days, "day", "days"))


def warmth(too_warm_k: float) -> str:
    """Say by how much nights were said too warm or too cold."""
    if abs(too_warm_k) < 0.05:
        return "neither too warm nor too cold"
    side = "too warm" if too_warm_k > 0 else "too cold"
    return "{much} {side}".format(much=f"{abs(too_warm_k):.1f}{NBSP}K", side=side)


def skill(value: Skill) -> str:
    """Say in figures how good forecasts are taken to be."""
    return "fall of skill {days} days, error of the place {site}, own shift {shift}".format(
        days=f"{value.days:.1f}", site=kelvin(value.site_error_k), shift=kelvin(value.shift_k)
    )


def shift(value_k: float, error_k: float | None, nights: int) -> str:
    """Say how much warmer or colder than forecast a place's nights are."""
    side = "warmer" if value_k > 0 else "colder"
    doubt = "" if error_k is None else f", give or take {kelvin(error_k)}"
    return "Nights here come {much} {side} than forecast{doubt} ({nights}).".format(
        much=kelvin(abs(value_k)),
        side=side,
        doubt=doubt,
        nights=counted(nights, "night", "nights"),
    )


def brier_parts(value: LeadResult) -> tuple[str, str, str, str]:
    """Give Brier's measure of frost chances and its parts, as three-decimal figures."""
    frost = value.frost
    found = (frost.value, frost.reliability, frost.resolution, frost.uncertainty)
    whole, reliability, resolution, uncertainty = (f"{one:.3f}" for one in found)
    return whole, reliability, resolution, uncertainty
