"""The place that receives a parcel, and the nights its plants have there."""

from dataclasses import dataclass
from datetime import date

from exchange.domain.arriving import course as craft
from exchange.domain.arriving.arrival import ArrivalWindow
from exchange.domain.arriving.course import CareCourse
from exchange.domain.arriving.nights import NightPlacement, night_stands
from exchange.domain.growing.shelter import Shelter, ShelterKind
from exchange.domain.weather.forecast import Outlook, WeatherSource

FROM_FORECAST = frozenset({WeatherSource.FORECAST, WeatherSource.BOTH})
"""Sources whose nights may be called by name; climate never is."""


@dataclass(frozen=True, slots=True)
class Receiving:
    """What care needs of the receiving place.

    Attributes
    ----------
    shelters : those the member told; none means indoors
    safe_date : day from which plants can stay out at night, or None when not known
    """

    shelters: tuple[Shelter, ...]
    outlook: Outlook
    safe_date: date | None = None

    @property
    def kinds(self) -> frozenset[ShelterKind]:
        """The kinds of shelter there are."""
        return frozenset(shelter.kind for shelter in self.shelters)


def nights_of(
    course: CareCourse, window: ArrivalWindow, at: Receiving
) -> tuple[NightPlacement, ...]:
    """Give each known night from arrival until plants of the course can stay out."""
    wanted = craft.needs(course, window, at.kinds)
    safe = craft.safe_date_for(window, at.safe_date)
    until = max(date.max if safe is None else safe, wanted.settled_on)
    return night_stands(at.outlook, window.first, until, wanted, at.kinds)
