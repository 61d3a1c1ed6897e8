"""The circle as the post sees it, its terms among it: everything a parcel's day depends on."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date

from exchange.domain.circle.away import Away
from exchange.domain.circle.border import BorderRow
from exchange.domain.circle.household import Household
from exchange.domain.circle.place import Place
from exchange.domain.growing.batch import RESTING, Material
from exchange.domain.growing.shelter import Shelter
from exchange.domain.growing.variety import Variety
from exchange.domain.posting.announced import AnnouncingRule
from exchange.domain.posting.transit import Closures
from exchange.domain.posting.way import Way
from exchange.domain.weather.climate import Climate
from exchange.domain.weather.forecast import Outlook

MONDAY, TUESDAY, WEDNESDAY = 0, 1, 2


@dataclass(frozen=True, slots=True)
class PostingDays:
    """On which weekdays a material may be handed over.

    Attributes
    ----------
    quick : weekdays by a quick service, 0 = Monday
    slow : weekdays by any other postal service
    """

    quick: frozenset[int]
    slow: frozenset[int]


def usual_posting_days() -> dict[Material, PostingDays]:
    """Give the weekdays that keep a parcel out of a depot over Sunday (judgement on published odds)."""
    two, three = frozenset({MONDAY, TUESDAY}), frozenset({MONDAY, TUESDAY, WEDNESDAY})
    days = {Material.UNROOTED: PostingDays(quick=two, slow=frozenset())}
    days |= {kind: PostingDays(quick=three, slow=two) for kind in RESTING}
    days |= {
        kind: PostingDays(quick=three, slow=frozenset({MONDAY}))
        for kind in (Material.ROOTED, Material.YOUNG_PLANT)
    }
    return days


@dataclass(frozen=True, slots=True)
class PostingTerms:
    """What the circle has agreed on. All defaults are judgement.

    Attributes
    ----------
    posting_days : weekdays by material; a material without a row may go on any day
    closed_from, closed_until : first and last day of the closed season as (month, day), both counted;
        by hand is free of it
    loss_limit, loss_limit_kept : chance of loss above which a parcel waits; the second where a line
        must not be lost
    waiting_price : what a day's waiting counts [plants]
    announced_days : at most so long before posting its day is announced [d]
    announced_held : an announced day is held until its loss passes so many times the limit
    announced_gain : least fall of the loss that moves an announced day [chance for the line most in danger]
    longest_wait : after so many days the organiser is asked [d]
    rest_limit : chance of lying over a Sunday or holiday above which green stock waits
    shelter_nights : nights after arrival in which the receiver's shelter counts [nights]
    horizon : days planned, from today [d]
    scenarios : futures the weather is drawn out into
    default_packing : key of the packing taken unless another is needed
    packed_at_c : temperature at which parcels are packed [degrees C]
    """

    posting_days: Mapping[Material, PostingDays] = field(default_factory=usual_posting_days)
    closed_from: tuple[int, int] = (11, 20)
    closed_until: tuple[int, int] = (3, 10)
    loss_limit: float = 1 / 20
    loss_limit_kept: float = 1 / 50
    waiting_price: float = 0.005
    announced_days: int = 4
    announced_held: float = 1.5
    announced_gain: float = 0.02
    longest_wait: int = 14
    rest_limit: float = 0.10
    shelter_nights: int = 5
    horizon: int = 21
    scenarios: int = 24
    default_packing: str = "shoe_box"
    packed_at_c: float = 15.0

    @property
    def announcing(self) -> AnnouncingRule:
        """How announced days are kept."""
        return AnnouncingRule(self.announced_days, self.announced_held, self.announced_gain)

    def closed(self, month: int, day: int) -> bool:
        """Say whether a day of the year lies in the closed season."""
        here = (month, day)
        if self.closed_from <= self.closed_until:
            return self.closed_from <= here <= self.closed_until
        return here >= self.closed_from or here <= self.closed_until


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
