"""The place that receives a parcel, and the nights its plants have there."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from exchange.domain.arriving import course as craft
from exchange.domain.arriving.arrival import ArrivalWindow
from exchange.domain.arriving.course import CareCourse
from exchange.domain.arriving.nights import NightPlacement, night_stands
from exchange.domain.growing.season import Season
from exchange.domain.growing.shelter import Shelter, ShelterKind
from exchange.domain.growing.variety import Species
from exchange.domain.weather.forecast import Outlook, WeatherSource

FROM_FORECAST = frozenset({WeatherSource.FORECAST, WeatherSource.BOTH})
"""Sources whose nights may be called by name; climate never is."""


@dataclass(frozen=True, slots=True)
class Receiving:
    """What care needs of the receiving place.

    Attributes
    ----------
    shelters : those the member told; none means indoors
    season : the dates of the year of arrival there, or None when nothing is known of them
    """

    shelters: tuple[Shelter, ...]
    outlook: Outlook
    season: Season | None = None

    @property
    def kinds(self) -> frozenset[ShelterKind]:
        """The kinds of shelter there are."""
        return frozenset(shelter.kind for shelter in self.shelters)

    def out_from(self, kinds: Iterable[Species], window: ArrivalWindow) -> date | None:
        """Give the day from which arrivals of all these kinds may go out; None where it is unknown or never comes."""
        if self.season is None:
            return None
        days = [self.season.out_from(kind) for kind in kinds]
        known = [day for day in days if day is not None]
        return craft.safe_date_for(window, max(known)) if len(known) == len(days) else None


def nights_of(
    course: CareCourse, window: ArrivalWindow, at: Receiving
) -> tuple[NightPlacement, ...]:
    """Give each known night from arrival until plants of the course can stay out."""
    wanted = craft.needs(course, window, at.kinds)
    safe = at.out_from(course.species, window)
    until = max(date.max if safe is None else safe, wanted.settled_on)
    return night_stands(at.outlook, window.first, until, wanted, at.kinds)
