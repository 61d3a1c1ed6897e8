"""The demo circle's people and places, entered by their own acts."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import datetime
from typing import Any

from exchange.actions.circle.set_up import NewCircle, record_circle, record_organiser
from exchange.actions.demo.data import DemoData
from exchange.actions.growing.shelters import NewShelter, set_shelter
from exchange.actions.kernel.actor import Actor, House, clock_actor, member_actor
from exchange.actions.kernel.letters import hand_over, letters_by_hand
from exchange.actions.kernel.links import Purpose, look_at_link
from exchange.actions.people.away import NewAway, go_away
from exchange.actions.people.households import (
    AddressTerms,
    ContactTerms,
    HouseholdPosting,
    set_address,
    set_contact,
    set_posting,
)
from exchange.actions.people.joining import Joining, record_joining
from exchange.actions.people.members import NewMember, add_member, invite, make_helper
from exchange.actions.people.places import PlaceTerms, add_place, change_place, places_of
from exchange.actions.people.towns import Town
from exchange.domain.circle.place import Lie
from exchange.domain.growing.shelter import ShelterKind
from exchange.records import circles
from exchange.reference.gazetteer import search

MOST_TOWNS_OF_A_NAME = 60


@dataclass
class Settled:
    """The demo circle once everybody is in it.

    Attributes
    ----------
    actors : an actor for each household, by its name
    households, places : ids by the names the data uses
    """

    house: House
    circle_id: int
    actors: dict[str, Actor] = field(default_factory=dict)
    households: dict[str, int] = field(default_factory=dict)
    places: dict[tuple[str, str], int] = field(default_factory=dict)

    @property
    def organiser(self) -> Actor:
        return next(actor for actor in self.actors.values() if actor.organiser)


def settle(house: House, data: DemoData) -> Settled:
    """Set the circle up and let everybody join, the organiser first."""
    began = min(data.at(one["joined_on"], 9) for one in data.households)
    circle = data.circle
    new = NewCircle(circle["name"], circle["country"], circle["zone"], circle["about_how_many"])
    with house.books.writing() as tx:
        circle_id = record_circle(tx, new, began)
        circles.change(tx, circle_id, fixed_today=circle["today"])
    settled = Settled(house, circle_id)
    ordered = sorted(data.households, key=lambda one: not _has_organiser(one))
    for household in ordered:
        _household(settled, household, data)
    _letters_handed_over(settled, data.now)
    return settled


def _has_organiser(household: Mapping[str, Any]) -> bool:
    return any(member.get("organiser") for member in household["member"])


def _household(settled: Settled, household: Mapping[str, Any], data: DemoData) -> None:
    now = data.at(household["joined_on"], 10)
    town = _town(household["place"][0])
    household_id: int | None = None
    for member in household["member"]:
        new = NewMember(
            member["first_name"], member["surname"], member.get("email", ""), "", household_id, town
        )
        member_id = _member(settled, member, new, now)
        actor = member_actor(settled.house, settled.circle_id, member_id)
        household_id = actor.household_id
        settled.actors.setdefault(household["name"], actor)
        _contact(settled, actor, member, now)
    settled.households[household["name"]] = household_id or 0
    _terms(settled.actors[household["name"]], household, now, data)
    _places(settled, household, now)


def _member(settled: Settled, member: Mapping[str, Any], new: NewMember, now: datetime) -> int:
    """Let a member join by invitation, or the organiser keep one who never signs in."""
    house = settled.house
    first = NewMember(new.first_name, new.surname, new.email, "", new.household_id)
    if member.get("organiser") and not settled.actors:
        with house.books.writing() as tx:
            invited = record_organiser(tx, clock_actor(house, settled.circle_id), first, now)
    elif member["account"]:
        invited = invite(settled.organiser, first, now)
    else:
        return add_member(settled.organiser, first, now)
    token = invited.link.rpartition("/")[2]
    if new.town is None:
        raise LookupError(f"{new.first_name} of the demo has no town")
    joining = Joining(new.first_name, new.town, new.surname)
    with house.books.writing() as tx:
        opened = look_at_link(tx, token, Purpose.INVITATION, lambda _circle: now)
        record_joining(tx, house, opened, joining, now)
    return invited.member.id


def _contact(settled: Settled, actor: Actor, member: Mapping[str, Any], now: datetime) -> None:
    if member.get("telephone"):
        terms = ContactTerms(
            member["first_name"],
            member["surname"],
            member.get("email", ""),
            member["telephone"],
            member.get("telephone_allowed", False),
        )
        set_contact(actor, terms, now)
    if member.get("helper"):
        make_helper(settled.organiser, actor.member_id or 0, member["helper"], now)


def _terms(actor: Actor, household: Mapping[str, Any], now: datetime, data: DemoData) -> None:
    weekdays = frozenset(household.get("posting_weekdays", range(7)))
    set_posting(actor, HouseholdPosting(weekdays, household["parcels_a_day"]), now)
    set_address(
        actor,
        AddressTerms(
            "\n".join(household["address"]),
            household.get("safe_place", ""),
            household["return_address_allowed"],
        ),
        now,
    )
    for away in household.get("away", ()):
        go_away(actor, NewAway(**away), data.now)


def _places(settled: Settled, household: Mapping[str, Any], now: datetime) -> None:
    """Correct the place a household joined with, and add the others."""
    actor = settled.actors[household["name"]]
    joined_with = [one.id for one in places_of(actor)]
    for place in household["place"]:
        town, terms = _town(place), _place_terms(place)
        if joined_with:
            place_id = joined_with.pop()
            change_place(actor, place_id, town, terms, now)
        else:
            place_id = add_place(actor, town, terms, now)
        settled.places[household["name"], place["name"]] = place_id
        for shelter in place.get("shelter", ()):
            new = NewShelter(
                place_id,
                ShelterKind(shelter["kind"]),
                shelter.get("room_pots"),
                shelter.get("carried_in", False),
            )
            set_shelter(actor, new, now)


def _place_terms(place: Mapping[str, Any]) -> PlaceTerms:
    return PlaceTerms(
        place["name"],
        height_m=place.get("height_m"),
        lie=Lie(place["lie"]),
        home_by=place.get("home_by", 18),
        letter_box=place.get("letter_box", False),
        rural_extra_day=place.get("rural_extra_day", False),
    )


def _town(place: Mapping[str, Any]) -> Town:
    wanted = f"{place['town']}, {place['county']}" if place["county"] else place["town"]
    found = [
        town
        for town in search(wanted, place["country"], MOST_TOWNS_OF_A_NAME)
        if (town.town, town.county) == (place["town"], place["county"])
    ]
    return found[0]


def _letters_handed_over(settled: Settled, now: datetime) -> None:
    """Put away the invitations everybody has followed."""
    for one in letters_by_hand(settled.organiser):
        hand_over(settled.organiser, one.letter.id, now)
