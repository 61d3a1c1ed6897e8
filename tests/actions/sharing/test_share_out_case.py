"""What a share-out is worked out from, once plants of an earlier one have come."""

from datetime import timedelta

import pytest

from exchange.actions.growing.shelters import NewShelter, set_shelter
from exchange.actions.posting.parcels import Arrival, say_arrived
from exchange.actions.sharing.share_out_case import share_out_case
from exchange.domain.growing.shelter import ShelterKind
from exchange.records import SHARE_OUTS
from tests.app_fixtures import a_house
from tests.builders.season import MONDAY, a_season, morning, tell_weather

NOW = morning(MONDAY)
TUESDAY = MONDAY + timedelta(days=1)


@pytest.fixture
def season(tmp_path):
    """Effie was given one plant, and has told where it would stand."""
    with a_house(tmp_path) as house:
        made = a_season(house, now=NOW)
        place = made.ring.place("Effie").id
        shelter = NewShelter(place, ShelterKind.FROST_FREE, 20)
        set_shelter(made.ring.actor("Effie"), shelter, NOW)
        tell_weather(made, NOW)
        made.plan(NOW)
        yield made


def the_case(season, **other):
    """The case of the confirmed share-out, or of one opened after it."""
    with season.house.books.writing() as tx:
        row = SHARE_OUTS.get(tx, season.circle_id, season.share_out_id)
        if other:
            values = {"draw_hash": row.draw_hash, "draw_number": row.draw_number, **other}
            row = SHARE_OUTS.get(
                tx, season.circle_id, SHARE_OUTS.add(tx, season.circle_id, **values)
            )
        return share_out_case(tx, season.circle_id, row, NOW)


def pots_at(season, case):
    return case.taken.get((season.ring.place("Effie").id, ShelterKind.FROST_FREE), 0)


def arrive(season):
    parcel = season.parcel_to("Effie")
    say_arrived(season.ring.actor("Effie"), parcel.id, Arrival(TUESDAY), morning(TUESDAY, 12))


def test_what_came_of_an_earlier_share_out_takes_room_once(season):
    later = {"name": "Later", "opens_on": MONDAY, "closes_on": TUESDAY}
    assert pots_at(season, the_case(season, **later)) == 1, "on its way"
    arrive(season)
    assert pots_at(season, the_case(season, **later)) == 1, "come, and potted up"


def test_what_a_confirmed_share_out_gave_is_kept_whether_it_has_come_or_not(season):
    before = the_case(season)
    arrive(season)
    after = the_case(season)

    assert {one.claim_id for one in before.kept} == set(season.claims.values())
    assert after.kept == before.kept
    assert after.batches == before.batches
    assert pots_at(season, before) == pots_at(season, after) == 0, "what is kept takes it instead"
    assert (after.given, after.received) == ({}, {}), "only earlier share-outs count"
