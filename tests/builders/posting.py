"""Plain builders for posting: a sender in one town, a receiver in another, one parcel of dahlias."""

from datetime import UTC, date, datetime, timedelta

from exchange.domain.circle.household import Household
from exchange.domain.circle.place import Place
from exchange.domain.facts import Facts
from exchange.domain.growing.batch import Material, Raised
from exchange.domain.growing.shelter import Shelter, ShelterKind
from exchange.domain.growing.variety import Species
from exchange.domain.plan import make_plan
from exchange.domain.posting.circumstances import PostingTerms
from exchange.domain.posting.parcel import Line, Parcel
from exchange.domain.posting.way import Carriage, Way
from exchange.domain.weather.forecast import Night, Outlook, WeatherSource

MONDAY = date(2027, 4, 5)
NOW = datetime(2027, 4, 5, 7, 0, tzinfo=UTC)
EVE = datetime(2027, 4, 4, 12, 0, tzinfo=UTC)
"""The noon before, when Monday can still be announced."""


def a_household(number=1, **more):
    return Household(id=number, name=f"Household {number}", **more)


def a_place(number=1, **more):
    given = {
        "household_id": number,
        "name": "home",
        "town": "Ely",
        "county": "Cambridgeshire",
        "country": "GB",
        "subdivision": "ENG",
        "latitude": 52.4,
        "longitude": 0.26,
        "zone": "Europe/London",
    }
    return Place(id=number, **(given | more))


def a_line(allocation_id=1, **more):
    given = {
        "spare_id": 1,
        "variety_id": 1,
        "species": Species.DAHLIA,
        "material": Material.ROOTED,
        "raised": Raised.COOL,
        "count": 1,
        "ready_from": date(2027, 4, 1),
        "send_by": date(2027, 6, 1),
    }
    return Line(allocation_id=allocation_id, **(given | more))


def a_parcel(number=1, lines=None, **more):
    given = {
        "code": f"Bramble {20 + number}",
        "sender_household_id": 1,
        "sender_place_id": 1,
        "receiver_household_id": 2,
        "receiver_place_id": 2,
    }
    return Parcel(id=number, lines=lines or (a_line(number),), **(given | more))


def first_class(number=1, **more):
    given = {
        "name": "first class",
        "country": "GB",
        "carriage": Carriage.POST,
        "odds": (77.5, 14.8, 4.3, 3.4),
        "quick": True,
    }
    return Way(id=number, **(given | more))


def second_class(number=2, **more):
    return first_class(
        number,
        **({"name": "second class", "odds": (5, 30, 56.6, 5, 1.8, 1.6), "quick": False} | more),
    )


def by_hand(number=3, **more):
    return first_class(
        number, **({"name": "by hand", "carriage": Carriage.BY_HAND, "odds": ()} | more)
    )


def an_outlook(place_id=1, means=8.0, sd=1.0, first=MONDAY - timedelta(days=1), nights=45, **more):
    """Nights of one mean, or of the means given and then of the last of them."""
    listed = list(means) if isinstance(means, (list, tuple)) else [means]
    source = more.pop("source", WeatherSource.FORECAST)
    laid = tuple(
        Night(
            first + timedelta(days=n), mean := listed[min(n, len(listed) - 1)], sd, mean + 7, source
        )
        for n in range(nights)
    )
    return Outlook(place_id=place_id, nights=laid, source=source, **more)


def facts(parcels=None, **more):
    given = {
        "households": {n: a_household(n) for n in (1, 2, 3, 4)},
        "places": {n: a_place(n) for n in (1, 2, 3, 4)},
        "shelters": tuple(Shelter(n, ShelterKind.INDOORS) for n in (1, 2, 3, 4)),
        "ways": {1: first_class()},
        "outlooks": {n: an_outlook(n) for n in (1, 2, 3, 4)},
        "parcels": tuple(parcels) if parcels is not None else (a_parcel(),),
        "terms": PostingTerms(),
    }
    return Facts(**(given | more))


def plan_one(parcels=None, now=NOW, **more):
    return make_plan(facts(parcels, **more), now).parcels[0]


def words(plan):
    return {day.day: day.word for day in plan.strip}


def both(**more):
    return {n: an_outlook(n, **more) for n in (1, 2, 3, 4)}
