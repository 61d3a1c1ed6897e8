"""What is said of varieties, plants, places and shelters is kept whole, or not at all."""

import pytest

from exchange.actions.growing.batches import NewBatch, count_batch, grow_too
from exchange.actions.growing.shelters import NewShelter, set_shelter
from exchange.actions.growing.varieties import mark_variety, name_variety
from exchange.actions.growing.variety_meant import TypedName, find_or_name
from exchange.actions.people.places import PlaceTerms, change_place
from exchange.actions.people.towns import TownWanted
from exchange.domain.growing.shelter import ShelterKind
from exchange.domain.growing.variety import Species
from tests.app_fixtures import NOW
from tests.builders.breaking import BrokenError, break_at, dump
from tests.builders.offers import a_batch, a_spare, a_variety, marks


@pytest.fixture
def grown(circle):
    """Give a circle in which Effie grows a variety and lists spares of it."""
    variety_id = a_variety(circle)
    batch_id = a_batch(circle, "Effie", variety_id)
    a_spare(circle, "Effie", variety_id)
    return circle, variety_id, batch_id


def name(circle, _variety_id, _batch_id):
    name_variety(circle.actor("Effie"), "Lamplighter", Species.DAHLIA, NOW)


def find_or_keep(circle, _variety_id, _batch_id):
    meant = TypedName("Lamplighter", Species.DAHLIA)
    find_or_name(circle.actor("Effie"), meant, NOW)


def grow(circle, variety_id, _batch_id):
    grow_too(circle.actor("Cuthbert"), NewBatch(variety_id, 3), NOW)


def count(circle, _variety_id, batch_id):
    count_batch(circle.actor("Effie"), batch_id, 1, NOW)


def mark(circle, variety_id, _batch_id):
    mark_variety(circle.actor("Effie"), variety_id, marks(protected=True), NOW)


def shelter(circle, _variety_id, _batch_id):
    new = NewShelter(circle.place("Effie").id, ShelterKind.COLD, 16)
    set_shelter(circle.actor("Effie"), new, NOW)


def move(circle, _variety_id, _batch_id):
    place, town = circle.place("Effie"), TownWanted("Penzance, Cornwall")
    change_place(circle.actor("Effie"), place.id, town, PlaceTerms("allotment"), NOW)


@pytest.mark.parametrize(
    ("act", "step"),
    [
        (name, "growing.varieties.note"),
        (find_or_keep, "growing.variety_meant.note"),
        (grow, "growing.batches.note"),
        (count, "growing.batches.note"),
        (mark, "growing.varieties._hold_spares"),
        (mark, "growing.varieties.note"),
        (shelter, "growing.shelters.note"),
        (move, "people.places._of_town"),
        (move, "people.places.note"),
    ],
)
def test_broken_in_the_middle_it_leaves_nothing(monkeypatch, grown, act, step):
    before = dump(grown[0].house.books)
    with monkeypatch.context() as patch:
        break_at(patch, f"exchange.actions.{step}")
        with pytest.raises(BrokenError):
            act(*grown)
    assert dump(grown[0].house.books) == before

    act(*grown)

    assert dump(grown[0].house.books) != before
