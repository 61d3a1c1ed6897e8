"""What the weather needs to know of a place, and how its lie shifts the night."""

from typing import Protocol

from exchange.domain.weather.climate import Climate, at_height, with_nights_shifted

LIE_SHIFT_K = {"open": 0.0, "hollow": -1.5, "town": 1.0, "coast": 1.0}
"""How much warmer the night minimum is than on open, level ground (judgement) [K]."""


class Spot(Protocol):
    """A place as the weather sees it."""

    @property
    def id(self) -> int:
        """Its number."""

    @property
    def zone(self) -> str:
        """IANA name of its time zone."""

    @property
    def height_m(self) -> float | None:
        """Height above the sea, None when nobody has said [m]."""

    @property
    def lie(self) -> str:
        """How it lies: open, hollow, town or coast."""


def climate_at(spot: Spot, climate: Climate, height_m: float | None = None) -> Climate:
    """Give the climate at the spot: corrected for its height and for how it lies.

    A file of the place itself (without a height of its own) has both in it already.

    Parameters
    ----------
    spot : the place
    climate : as its station has it
    height_m : height to take where the place itself states none [m]
    """
    if climate.height_m is None:
        return climate
    height = spot.height_m if spot.height_m is not None else height_m
    return with_nights_shifted(at_height(climate, height), LIE_SHIFT_K[spot.lie])
