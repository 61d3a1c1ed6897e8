"""A place: where stock stands, and what the weather needs to know of it."""

from dataclasses import dataclass
from enum import StrEnum


class Lie(StrEnum):
    """How a place lies, as the member sees it; it shifts the night minimum."""

    OPEN = "open"
    HOLLOW = "hollow"
    TOWN = "town"
    COAST = "coast"


@dataclass(frozen=True, slots=True)
class Place:
    """Where a household's stock stands.

    Attributes
    ----------
    latitude, longitude : position of the pin, three decimals at most [degrees]
    height_m : height above the sea, or None when nobody has said [m]
    country : ISO 3166-1 alpha-2 code
    subdivision : code the holidays of the place go by, for example "ENG" or "OR"; may be empty
    zone : IANA name of the time zone
    home_by : hour of the day at which somebody is home to take a parcel in [h]
    letter_box : whether a flat parcel goes through the letter box instead of waiting outside
    rural_extra_day : whether the post usually takes a day longer here
    frost_rare_day : from when on frost is rare here as its grower has seen it, as the day of a 365-day year, or
        None when nobody has said
    """

    id: int
    household_id: int
    name: str
    town: str
    county: str
    country: str
    subdivision: str
    latitude: float
    longitude: float
    zone: str
    height_m: float | None = None
    lie: Lie = Lie.OPEN
    home_by: int = 18
    letter_box: bool = False
    rural_extra_day: bool = False
    frost_rare_day: int | None = None
