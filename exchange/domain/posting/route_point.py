"""A town parcels of a way go through; it may be colder than both ends."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class RoutePoint:
    """A town in whose depots parcels of a way lie after their first night; no household lives there.

    Attributes
    ----------
    latitude, longitude : position of the town [degrees]
    zone : IANA name of the time zone
    height_m : height above the sea, None while it is not known [m]
    """

    id: int
    way_id: int
    town: str
    county: str
    country: str
    subdivision: str
    latitude: float
    longitude: float
    zone: str
    height_m: float | None = None

    @property
    def number(self) -> int:
        """The number its air goes by beside the places'; negative, so that it is never one of theirs."""
        return -self.id
