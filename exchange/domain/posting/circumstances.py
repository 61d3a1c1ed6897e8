"""The circle as the post sees it: everything a parcel's day depends on."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date

from exchange.domain.circle.away import Away
from exchange.domain.circle.border import BorderRow
from exchange.domain.circle.household import Household
from exchange.domain.circle.place import Place
from exchange.domain.growing.shelter import Shelter
from exchange.domain.growing.variety import Variety
from exchange.domain.posting.terms import PostingTerms
from exchange.domain.posting.transit import Closures
from exchange.domain.posting.way import Way
from exchange.domain.weather.climate import Climate
from exchange.domain.weather.forecast import Outlook


@dataclass(frozen=True, slots=True, kw_only=True)
class Circumstances:
    """What is known of a circle for the post.

    Attributes
    ----------
    households, places, varieties, ways : by id
    closures : (country, subdivision) -> day -> name of the holiday or closure
    outlooks : by place id; a place without weather may be left out
    usual : what is usual at the places themselves, by place id; likewise
    room_taken : place id -> day -> pots that stand there from that day on, until the next day given
    answers : way id -> parcels that came on the first, second ... delivery day [parcels]
    """

    households: Mapping[int, Household]
    places: Mapping[int, Place]
    shelters: tuple[Shelter, ...] = ()
    away: tuple[Away, ...] = ()
    varieties: Mapping[int, Variety] = field(default_factory=dict)
    ways: Mapping[int, Way] = field(default_factory=dict)
    closures: Mapping[tuple[str, str], Closures] = field(default_factory=dict)
    borders: tuple[BorderRow, ...] = ()
    outlooks: Mapping[int, Outlook] = field(default_factory=dict)
    usual: Mapping[int, Climate] = field(default_factory=dict)
    room_taken: Mapping[int, Mapping[date, int]] = field(default_factory=dict)
    answers: Mapping[int, tuple[int, ...]] = field(default_factory=dict)
    terms: PostingTerms = field(default_factory=PostingTerms)

    def closures_at(self, place: Place) -> Closures:
        """Give the closures of the area a place lies in."""
        return self.closures.get((place.country, place.subdivision), {})

    def shelters_at(self, place_id: int) -> tuple[Shelter, ...]:
        """List the shelters of a place."""
        return tuple(one for one in self.shelters if one.place_id == place_id)

    def taken(self, place_id: int, day: date) -> int:
        """Count the pots that stand at a place on a day."""
        known = self.room_taken.get(place_id, {})
        before = [given for given in known if given <= day]
        return known[max(before)] if before else 0
