"""Frost tonight: the pots of each place that stand too cold, and when the sun sets there."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from zoneinfo import ZoneInfo

from exchange.actions.kernel.actor import Actor
from exchange.actions.kernel.hours import just_struck_anywhere
from exchange.actions.kernel.letters import write
from exchange.actions.people.household_members import members_of
from exchange.actions.weather.outlooks import outlooks
from exchange.domain.arriving.tonight import FROST_HOUR, ColdPots, cold_tonight
from exchange.domain.circle.place import Place
from exchange.domain.growing.variety import Variety
from exchange.domain.permissions import Permission
from exchange.domain.weather.blend import chance_in
from exchange.domain.weather.forecast import Night, WeatherSource
from exchange.domain.weather.sun import sun_times
from exchange.records import BATCHES, PLACES, SHELTERS, VARIETIES, Tx, circles
from exchange.records.rows.people import PlaceWhere
from exchange.words.growing import plants
from exchange.words.kernel.letters import LetterReader
from exchange.words.posting import questions as words


@dataclass(frozen=True, slots=True)
class PotsAtRisk:
    """Pots to carry in, in words and as values."""

    sentence: str
    cold: ColdPots


@dataclass(frozen=True, slots=True)
class FrostTonight:
    """A place where pots stand too cold tonight.

    Attributes
    ----------
    day : the day on which the night begins
    low_c : expected night minimum out of doors [degrees C]
    frost_chance : chance that it falls below 0 degrees C out of doors
    sunset : in the place's zone, None where the sun does not set
    source : forecast or climate
    """

    place: Place
    day: date
    low_c: float
    frost_chance: float
    sunset: datetime | None
    source: WeatherSource
    pots: tuple[PotsAtRisk, ...]


def is_frost_hour(actor: Actor, now: datetime) -> bool:
    """Say whether cold nights are to be told now at any place of the circle."""
    return just_struck_anywhere(actor, (FROST_HOUR,), now)


def frost_tonight(
    actor: Actor, now: datetime, *, everybody: bool = False
) -> tuple[FrostTonight, ...]:
    """Give the places of the household where pots stand too cold tonight, for the first page.

    Parameters
    ----------
    everybody : all places of the circle, which only its organiser and the clock see
    """
    actor.must(Permission.RUN_CIRCLE if everybody else Permission.SEE_CIRCLE)
    own: PlaceWhere = {} if everybody else {"household_id": actor.own_household()}
    with actor.books.reading() as tx:
        return cold_places(tx, actor.circle_id, PLACES.all(tx, actor.circle_id, **own), now)


def cold_places(
    tx: Tx, circle_id: int, places: Sequence[Place], now: datetime
) -> tuple[FrostTonight, ...]:
    """Give those of the places where pots stand too cold tonight, within an act."""
    varieties = VARIETIES.by_id(tx, circle_id)
    ahead = outlooks(tx, circle_id, now, [place.id for place in places])
    found = []
    for place in places:
        today = now.astimezone(ZoneInfo(place.zone)).date()
        outlook = ahead.get(place.id)
        night = outlook.night(today) if outlook else None
        if night is not None:
            found.append(_at(tx, circle_id, place, night, varieties))
    return tuple(one for one in found if one.pots)


def tell_frost(actor: Actor, now: datetime) -> int:
    """Write to the households whose pots stand too cold tonight, once a night.

    Returns
    -------
    how many places are told [places]
    """
    actor.must(Permission.RUN_CLOCK)
    with actor.books.reading() as tx:
        found = cold_places(tx, actor.circle_id, PLACES.all(tx, actor.circle_id), now)
    link = f"{actor.house.public_url}/todo"
    with actor.books.writing() as tx:
        circle = circles.get(tx, actor.circle_id)
        for one in found:
            night = (_name(one.place), one.low_c, one.source, one.sunset)
            lines = [pots.sentence for pots in one.pots]
            for member in members_of(tx, actor.circle_id, one.place.household_id):
                letter = words.too_cold_tonight(
                    LetterReader(member.first_name, circle.name), night, lines, link
                )
                key = f"frost_tonight:{one.place.id}:{one.day}:{member.id}"
                write(tx, actor.house, member, letter, key, now)
    return len(found)


def pots_at_risk(
    tx: Tx,
    circle_id: int,
    place: Place,
    nights: Sequence[Night],
    varieties: Mapping[int, Variety],
) -> tuple[PotsAtRisk, ...]:
    """Give the pots of a place that stand too cold tonight by any of the nights, within an act."""
    kinds = frozenset(one.kind for one in SHELTERS.all(tx, circle_id, place_id=place.id))
    batches = BATCHES.all(tx, circle_id, place_id=place.id)
    pots = [(one, varieties[one.variety_id].species) for one in batches]
    return tuple(_named(one, varieties) for one in cold_tonight(pots, nights, kinds))


def _at(
    tx: Tx, circle_id: int, place: Place, night: Night, varieties: Mapping[int, Variety]
) -> FrostTonight:
    times = sun_times(place.latitude, place.longitude, night.day)
    zone = ZoneInfo(place.zone)
    sunset = times[1].astimezone(zone).replace(second=0, microsecond=0) if times else None
    return FrostTonight(
        place,
        night.day,
        night.mean_c,
        chance_in(night),
        sunset,
        night.source,
        pots_at_risk(tx, circle_id, place, (night,), varieties),
    )


def _named(cold: ColdPots, varieties: Mapping[int, Variety]) -> PotsAtRisk:
    batch, variety = cold.batch, varieties[cold.batch.variety_id]
    what = plants.so_many(batch.plants, batch.material, variety.species, variety.name, batch.raised)
    return PotsAtRisk(words.pots_line(what, cold.stands.shelter, cold.carry_to.shelter), cold)


def _name(place: Place) -> str:
    return f"{place.name}, {place.town}"
