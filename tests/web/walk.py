"""Every route of the pages, filled with the numbers of real rows."""

from dataclasses import dataclass
from datetime import date
from typing import Any

from flask import Flask
from werkzeug.routing import AnyConverter, IntegerConverter, Rule

from exchange.actions.growing.batches import NewBatch, grow_too
from exchange.actions.growing.merge_varieties import merge
from exchange.actions.growing.plant_classes import take_usual_classes
from exchange.actions.growing.shelters import NewShelter, set_shelter
from exchange.actions.growing.varieties import name_variety
from exchange.actions.kernel.actor import Actor
from exchange.actions.people.away import NewAway, go_away
from exchange.actions.people.households import AddressTerms, ContactTerms, set_address, set_contact
from exchange.actions.posting.replan import replan
from exchange.actions.sharing.claims import NewClaim, claim
from exchange.actions.sharing.share_out import NewShareOut, open_share_out
from exchange.actions.sharing.spares import NewSpare, list_spare
from exchange.actions.weather.frost_notes import note_frost
from exchange.actions.weather.observations import observe
from exchange.actions.weather.own_daily_file import look_over
from exchange.domain.growing.batch import Material, Raised
from exchange.domain.growing.shelter import ShelterKind
from exchange.domain.growing.variety import Species
from exchange.records import repositories
from tests.app_fixtures import NOW, Ring, Site
from tests.builders.tasks import asked_for

HIDDEN = ("9 Hidden Lane", "behind the water butt", "01632 960999")
"""What only the sender of a parcel and the organiser may ever see of Effie's household."""

_SHELVES = {
    "member_id": repositories.MEMBERS,
    "household_id": repositories.HOUSEHOLDS,
    "place_id": repositories.PLACES,
    "shelter_id": repositories.SHELTERS,
    "away_id": repositories.AWAY,
    "variety_id": repositories.VARIETIES,
    "batch_id": repositories.BATCHES,
    "spare_id": repositories.SPARES,
    "claim_id": repositories.CLAIMS,
    "share_out_id": repositories.SHARE_OUTS,
    "allocation_id": repositories.ALLOCATIONS,
    "parcel_id": repositories.PARCELS,
    "other_id": repositories.PARCELS,
    "task_id": repositories.TASKS,
    "letter_id": repositories.LETTERS,
    "note_id": repositories.FROST_NOTES,
    "observation_id": repositories.OBSERVATIONS,
    "file_id": repositories.DAILY_FILES,
    "spreadsheet_id": repositories.SPREADSHEETS,
    "skill_id": repositories.PLACE_SKILLS,
    "way_id": repositories.WAYS,
    "closure_id": repositories.CLOSURES,
    "band_id": repositories.TARIFF_BANDS,
    "merger_id": repositories.MERGERS,
    "class_id": repositories.PLANT_CLASSES,
}


@dataclass(frozen=True)
class Step:
    """One route with one method and its address filled in."""

    endpoint: str
    method: str
    path: str
    of_one_thing: bool

    def __str__(self) -> str:
        return f"{self.method} {self.path} ({self.endpoint})"


def furnish(ring: Ring) -> None:
    """Give Effie's household what may be walked to, and what must stay hidden."""
    effie, organiser = ring.actor("Effie"), ring.actor("Winnie")
    set_address(effie, AddressTerms(f"{HIDDEN[0]}\nInverness", HIDDEN[1]), NOW)
    set_contact(
        effie,
        ContactTerms("Effie", ring["Effie"].surname, ring["Effie"].email or "", HIDDEN[2]),
        NOW,
    )
    set_shelter(effie, NewShelter(ring.place("Effie").id, ShelterKind.COLD, 16), NOW)
    go_away(effie, NewAway(date(2027, 8, 9), date(2027, 8, 19)), NOW)
    variety = name_variety(effie, "Ash over Lowmoor", Species.DAHLIA, NOW)
    grow_too(effie, NewBatch(variety.id, 3), NOW)
    list_spare(effie, _spare(variety.id), NOW)
    other = name_variety(organiser, "Ferry Light", Species.DAHLIA, NOW)
    claim(effie, NewClaim(other.id), NOW)
    take_usual_classes(organiser, Species.DAHLIA, NOW)
    merge(organiser, name_variety(effie, "Zinc Bucket", Species.DAHLIA, NOW).id, variety.id, NOW)
    _send_to_effie(ring, other.id)
    _know_the_weather(ring.actor("Effie"), ring.place("Effie").id)
    open_share_out(organiser, NewShareOut("Spring", date(2027, 4, 11), "a trial number"), NOW)
    asked_for(organiser, "plan")


def _know_the_weather(effie: Actor, place_id: int) -> None:
    """Give Effie's place a frost note, a night seen, a file looked over, a skill learned."""
    note_frost(effie, place_id, date(2027, 4, 6), -3.0, NOW)
    observe(effie, place_id, date(2027, 4, 4), 1.5, NOW)
    look_over(effie, place_id, "own.csv", b"date,tmin_c\n2027-04-01,2\n", NOW)
    learned = {"days": 8.0, "site_error_k": 0.9, "shift_k": 0.0, "nights": 60, "kept_at": NOW}
    with effie.books.writing() as tx:
        repositories.PLACE_SKILLS.add(
            tx,
            effie.circle_id,
            place_id=place_id,
            crps_before_k=1.0,
            crps_after_k=0.9,
            **learned,
        )


def _spare(variety_id: int, set_aside_for: int | None = None) -> NewSpare:
    first, last = date(2027, 4, 12), date(2027, 5, 20)
    return NewSpare(
        variety_id, Material.ROOTED, Raised.COOL, 2, first, last, set_aside_for=set_aside_for
    )


def _send_to_effie(ring: Ring, variety_id: int) -> None:
    """Plan a parcel to Effie, so that her address is somewhere it could leak from."""
    organiser = ring.actor("Winnie")
    list_spare(organiser, _spare(variety_id, ring["Effie"].household_id), NOW)
    replan(organiser, NOW)


def steps(app: Flask, here: Site, circle_id: int) -> list[Step]:
    """Give every route but files, with numbers of Effie's rows where there are any."""
    found = []
    with app.test_request_context():
        adapter = app.url_map.bind("localhost")
        for rule in app.url_map.iter_rules():
            if rule.endpoint.endswith("static"):
                continue
            values = _values(rule, here, circle_id)
            path = adapter.build(rule.endpoint, values)
            found += [
                Step(rule.endpoint, method, path, bool(set(values) & set(_SHELVES)))
                for method in sorted(rule.methods & {"GET", "POST"})
            ]
    return sorted(found, key=str)


def _values(rule: Rule, here: Site, circle_id: int) -> dict[str, Any]:
    values: dict[str, Any] = {}
    for name in rule.arguments:
        match rule._converters[name]:
            case IntegerConverter():
                values[name] = _number(name, here, circle_id)
            case AnyConverter(items=words):
                values[name] = min(words)
            case _:
                values[name] = "x"
    return values


def _number(name: str, here: Site, circle_id: int) -> int:
    if name not in _SHELVES:
        return 999_999
    with here.house.books.reading() as tx:
        rows = _SHELVES[name].all(tx, circle_id)
        effie = next(
            (one for one in repositories.MEMBERS.all(tx, circle_id) if one.first_name == "Effie"),
            None,
        )
    wanted = [one for one in rows if effie is None or _is_of(one, name, effie)]
    return (wanted or list(rows))[0].id if rows else 999_999


def _is_of(row: Any, name: str, effie: Any) -> bool:
    """Say whether a row belongs to Effie or her household, where it belongs to anybody."""
    if name in ("member_id", "household_id"):
        return bool(row.id == (effie.id if name == "member_id" else effie.household_id))
    if hasattr(row, "receiver_household_id"):
        return bool(row.receiver_household_id == effie.household_id)
    if hasattr(row, "household_id"):
        return bool(row.household_id == effie.household_id)
    return bool(getattr(row, "member_id", effie.id) == effie.id)
