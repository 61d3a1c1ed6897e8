"""All that the page My garden shows of a household."""

from dataclasses import dataclass
from datetime import datetime

from exchange.actions.growing.shelters import shelters_of, shelters_version
from exchange.actions.kernel.actor import Actor, circle_of, today_in
from exchange.actions.kernel.edits import version_of
from exchange.actions.people.households import OwnHousehold, own_household_in
from exchange.actions.people.places import PLACE, Height, height_of
from exchange.domain.circle.place import Place
from exchange.domain.growing.room import taken_by
from exchange.domain.growing.shelter import ShelterKind
from exchange.domain.permissions import Permission, Subject
from exchange.records import AWAY, BATCHES, PLACES, Tx
from exchange.records.rows.people import AwayRow, ShelterRow


@dataclass(frozen=True, slots=True)
class ShelterThere:
    """A shelter and the pots standing in it [pots]."""

    shelter: ShelterRow
    taken: int


@dataclass(frozen=True, slots=True)
class PlaceThere:
    """A place with its height and shelters."""

    place: Place
    height: Height
    shelters: tuple[ShelterThere, ...]

    @property
    def version(self) -> str:
        return version_of(self.place, PLACE)

    @property
    def shelters_version(self) -> str:
        return shelters_version(one.shelter for one in self.shelters)

    def without(self) -> tuple[ShelterKind, ...]:
        """Give the kinds of shelter this place is not said to have."""
        there = {one.shelter.kind for one in self.shelters}
        return tuple(kind for kind in ShelterKind if kind not in there)


@dataclass(frozen=True, slots=True)
class Garden:
    """A household's garden."""

    own: OwnHousehold
    places: tuple[PlaceThere, ...]
    away: tuple[AwayRow, ...]


def garden_of(actor: Actor, now: datetime) -> Garden:
    """Give the garden of the household acted for."""
    household_id = actor.own_household()
    with actor.books.reading() as tx:
        own = own_household_in(tx, actor)
        today = today_in(circle_of(actor, tx), now)
        places = PLACES.all(tx, actor.circle_id, household_id=household_id)
        away = AWAY.all(tx, actor.circle_id, household_id=household_id)
        return Garden(
            own,
            tuple(_there(tx, actor.circle_id, place) for place in places),
            tuple(one for one in away if one.last >= today),
        )


def place_there(actor: Actor, place_id: int) -> PlaceThere:
    """Give one place of the household acted for."""
    with actor.books.reading() as tx:
        place = PLACES.get(tx, actor.circle_id, place_id)
        actor.must(Permission.KEEP_OWN, Subject(owner=place.household_id))
        return _there(tx, actor.circle_id, place)


def _there(tx: Tx, circle_id: int, place: Place) -> PlaceThere:
    taken = taken_by(BATCHES.all(tx, circle_id, place_id=place.id))
    shelters = tuple(
        ShelterThere(one, taken.get((place.id, one.kind), 0))
        for one in shelters_of(tx, circle_id, place.id)
    )
    return PlaceThere(place, height_of(tx, circle_id, place), shelters)
