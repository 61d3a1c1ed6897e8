"""Where stock stands: places, their pins and heights."""

from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum
from typing import TypedDict

from exchange.actions.kernel.actor import Actor, note
from exchange.actions.kernel.edits import must_be_as_opened, version_of
from exchange.actions.kernel.refusals import RefusedError
from exchange.actions.people.towns import Town, TownWanted, find_town
from exchange.domain.circle.place import Lie, Place
from exchange.domain.permissions import Permission, Subject
from exchange.domain.weather.frost import SPRING_ENDS
from exchange.records import BATCHES, CLAIMS, PARCELS, PLACES, SPARES, Tx, forecasts_kept

HIGHEST_M, LOWEST_M = 4_500.0, -10.0
USUAL_NAME = "home"
PLACE = (
    "name",
    "town",
    "latitude",
    "longitude",
    "height_m",
    "lie",
    "home_by",
    "letter_box",
    "rural_extra_day",
)
"""What the form of a place edits: the columns its version is made of."""


class PlaceRefusedError(RefusedError):
    """The place cannot be kept like this."""


class PlaceInUseError(RefusedError):
    """Plants, spares, claims or parcels still belong to the place."""


@dataclass(frozen=True, slots=True)
class PlaceTerms:
    """What a household says of a place beyond its town.

    Attributes
    ----------
    latitude, longitude : the pin, where it was corrected [degrees]
    height_m : None while nobody has said [m]
    frost_rare_day : from when on frost is rare, as the day of a 365-day year; None while nobody has said
    """

    name: str = USUAL_NAME
    latitude: float | None = None
    longitude: float | None = None
    height_m: float | None = None
    lie: Lie = Lie.OPEN
    home_by: int = 18
    letter_box: bool = False
    rural_extra_day: bool = False
    frost_rare_day: int | None = None


class HeightFrom(StrEnum):
    """Who says how high a place lies."""

    SAID = "said"
    FORECAST = "forecast"
    NOBODY = "nobody"


@dataclass(frozen=True, slots=True)
class Height:
    """The height reckoned with; None means that no correction for height is made [m]."""

    metres: float | None
    source: HeightFrom


def add_place(actor: Actor, town: Town, terms: PlaceTerms, now: datetime) -> int:
    """Keep a place of the household."""
    household_id = actor.own_household()
    actor.must(Permission.KEEP_OWN, Subject(owner=household_id))
    with actor.books.writing() as tx:
        place_id = add_place_of(tx, actor.circle_id, household_id, town, terms)
        note(tx, actor, "added a place", f"{terms.name}, {town.town}", now)
    return place_id


def add_place_of(
    tx: Tx, circle_id: int, household_id: int, town: Town, terms: PlaceTerms | None = None
) -> int:
    """Keep a place in an open transaction; the pin is the town's until it is corrected."""
    wanted = terms or PlaceTerms()
    _check(wanted)
    name = _free_name(tx, circle_id, household_id, wanted.name)
    said = _of_terms(wanted)
    said["name"] = name
    return PLACES.add(
        tx, circle_id, household_id=household_id, **_of_town(town, _pin(wanted)), **said
    )


def change_place(
    actor: Actor,
    place_id: int,
    town: Town | TownWanted,
    terms: PlaceTerms,
    now: datetime,
    *,
    opened: str | None = None,
) -> None:
    """Change what is said of a place; a new town moves the pin unless a new pin is given too.

    Parameters
    ----------
    town : a town as typed is looked up only where it is not the place's own

    Raises
    ------
    TownNotFoundError, TownNotClearError, PlaceRefusedError
        With the sentence for the field.
    """
    _check(terms)
    found = look_up(town)
    with actor.books.writing() as tx:
        place = _own(tx, actor, place_id)
        must_be_as_opened(opened, version_of(place, PLACE))
        PLACES.change(tx, actor.circle_id, place_id, **_of_terms(terms))
        moved, pin = _moved_to(place, town, found), _pin(terms)
        if moved is not None:
            new_pin = None if pin == _pin_of(place) else pin
            PLACES.change(tx, actor.circle_id, place_id, **_of_town(moved, new_pin))
        elif pin is not None:
            PLACES.change(tx, actor.circle_id, place_id, latitude=pin[0], longitude=pin[1])
        note(tx, actor, "changed a place", f"{terms.name}, {(moved or place).town}", now)


def look_up(town: Town | TownWanted) -> Town | RefusedError:
    """Look a typed town up before anything is locked; a refusal counts only if it is a new one."""
    if not isinstance(town, TownWanted):
        return town
    try:
        return find_town(town)
    except RefusedError as refused:
        return refused


def _moved_to(place: Place, said: Town | TownWanted, found: Town | RefusedError) -> Town | None:
    """Give the town a place moves to, or None where it stays in its own."""
    if isinstance(said, TownWanted) and said.text == place.town and not said.chosen:
        return None
    if isinstance(found, RefusedError):
        raise found
    return found


def record_town(
    tx: Tx, actor: Actor, said: TownWanted, found: Town | RefusedError, now: datetime
) -> Place | None:
    """Say in which town the first place of the household acted for lies, within an act.

    Parameters
    ----------
    said : the town as typed; where it is empty the place stays as it is
    found : what `look_up` gave for it

    Returns
    -------
    the place, or None where there is none and no town is said
    """
    household_id = actor.own_household()
    places = PLACES.all(tx, actor.circle_id, household_id=household_id)
    if not said.text.strip():
        return places[0] if places else None
    if not places:
        if isinstance(found, RefusedError):
            raise found
        place_id = add_place_of(tx, actor.circle_id, household_id, found)
        note(tx, actor, "added a place", f"{USUAL_NAME}, {found.town}", now)
        return PLACES.get(tx, actor.circle_id, place_id)
    moved = _moved_to(places[0], said, found)
    if moved is not None:
        PLACES.change(tx, actor.circle_id, places[0].id, **_of_town(moved, None))
        note(tx, actor, "changed a place", f"{places[0].name}, {moved.town}", now)
    return PLACES.get(tx, actor.circle_id, places[0].id)


def remove_place(actor: Actor, place_id: int, now: datetime) -> None:
    """Remove a place where nothing stands and nothing is sent to."""
    with actor.books.writing() as tx:
        place = _own(tx, actor, place_id)
        if _in_use(tx, actor.circle_id, place_id):
            raise PlaceInUseError(f"Plants, spares or claims still belong to {place.name}.")
        PLACES.remove(tx, actor.circle_id, place_id)
        note(tx, actor, "removed a place", f"{place.name}, {place.town}", now)


def places_of(actor: Actor) -> tuple[Place, ...]:
    """Give the household's places."""
    with actor.books.reading() as tx:
        return PLACES.all(tx, actor.circle_id, household_id=actor.own_household())


def height_of(tx: Tx, circle_id: int, place: Place) -> Height:
    """Give the height of a place: as said, else the forecast grid's, else none."""
    if place.height_m is not None:
        return Height(place.height_m, HeightFrom.SAID)
    metres = forecasts_kept.grid_height(tx, circle_id, place.id)
    return Height(metres, HeightFrom.NOBODY if metres is None else HeightFrom.FORECAST)


def _own(tx: Tx, actor: Actor, place_id: int) -> Place:
    place = PLACES.get(tx, actor.circle_id, place_id)
    actor.must(Permission.KEEP_OWN, Subject(owner=place.household_id))
    return place


class _TownSaid(TypedDict):
    town: str
    county: str
    country: str
    subdivision: str
    latitude: float
    longitude: float
    zone: str


class _TermsSaid(TypedDict):
    name: str
    height_m: float | None
    lie: Lie
    home_by: int
    letter_box: bool
    rural_extra_day: bool
    frost_rare_day: int | None


def _of_town(town: Town, pin: tuple[float, float] | None) -> _TownSaid:
    """Give the columns a town fills; the pin is the town's own unless another is given."""
    latitude, longitude = pin or (town.latitude, town.longitude)
    return {
        "town": town.town,
        "county": town.county,
        "country": town.country,
        "subdivision": town.subdivision,
        "latitude": latitude,
        "longitude": longitude,
        "zone": town.zone,
    }


def _of_terms(terms: PlaceTerms) -> _TermsSaid:
    return {
        "name": terms.name.strip(),
        "height_m": terms.height_m,
        "lie": terms.lie,
        "home_by": terms.home_by,
        "letter_box": terms.letter_box,
        "rural_extra_day": terms.rural_extra_day,
        "frost_rare_day": terms.frost_rare_day,
    }


def _pin(terms: PlaceTerms) -> tuple[float, float] | None:
    """Give the pin said, or None where none is [degrees]."""
    if terms.latitude is None or terms.longitude is None:
        return None
    return round(terms.latitude, 3), round(terms.longitude, 3)


def _pin_of(place: Place) -> tuple[float, float]:
    """Give the pin a place has, as forms show it [degrees]."""
    return round(place.latitude, 3), round(place.longitude, 3)


def _check(terms: PlaceTerms) -> None:
    if not terms.name.strip():
        raise PlaceRefusedError("Give the place a name, such as home or allotment.", "name")
    if (terms.latitude is None) != (terms.longitude is None):
        raise PlaceRefusedError("Write both numbers of the pin, or neither.", "longitude")
    if terms.latitude is not None and not -90 <= terms.latitude <= 90:
        raise PlaceRefusedError("The latitude lies between −90 and 90.", "latitude")
    if terms.longitude is not None and not -180 <= terms.longitude <= 180:
        raise PlaceRefusedError("The longitude lies between −180 and 180.", "longitude")
    if terms.height_m is not None and not LOWEST_M <= terms.height_m <= HIGHEST_M:
        raise PlaceRefusedError("Write the height above the sea in metres, such as 95.", "height_m")
    _check_frost(terms)


def _check_frost(terms: PlaceTerms) -> None:
    if terms.frost_rare_day is not None and not 1 <= terms.frost_rare_day <= SPRING_ENDS:
        raise PlaceRefusedError("Choose a week of spring, or leave it open.", "frost_rare_day")


def _free_name(tx: Tx, circle_id: int, household_id: int, name: str) -> str:
    taken = {place.name for place in PLACES.all(tx, circle_id, household_id=household_id)}
    wanted = name.strip()
    free = (wanted if n == 1 else f"{wanted} {n}" for n in range(1, len(taken) + 2))
    return next(one for one in free if one not in taken)


def _in_use(tx: Tx, circle_id: int, place_id: int) -> bool:
    return bool(
        BATCHES.all(tx, circle_id, place_id=place_id)
        or SPARES.all(tx, circle_id, place_id=place_id)
        or CLAIMS.all(tx, circle_id, place_id=place_id)
        or PARCELS.all(tx, circle_id, sender_place_id=place_id)
        or PARCELS.all(tx, circle_id, receiver_place_id=place_id)
    )
