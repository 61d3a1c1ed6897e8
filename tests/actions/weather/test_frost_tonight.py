"""Frost tonight: which pots are named, by when they must be in, and that it is said once a night."""

from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

import pytest

from exchange.actions.growing.batches import NewBatch, grow_too
from exchange.actions.kernel.actor import NotAllowedError
from exchange.actions.weather.frost_tonight import frost_tonight, is_frost_hour, tell_frost
from exchange.domain.growing.batch import Material, Raised
from exchange.domain.growing.shelter import ShelterKind
from exchange.records import BATCHES, LETTERS, PLACES
from tests.app_fixtures import a_house
from tests.builders.season import MONDAY, a_season, morning, tell_weather

AT = morning(MONDAY, 14)
LONG_AGO = MONDAY - timedelta(days=29)


@pytest.fixture
def season(tmp_path):
    with a_house(tmp_path) as house:
        made = a_season(house, confirmed=False)
        with house.books.writing() as tx:
            for one in BATCHES.all(tx, made.circle_id):
                BATCHES.remove(tx, made.circle_id, one.id)
        tell_weather(made, AT, frost=(MONDAY,))
        yield made


def stand(season, shelter, *, raised=Raised.COOL, material=Material.ROOTED, since=None, plants=3):
    effie = season.ring.actor("Effie")
    new = NewBatch(
        season.variety_id, plants, season.ring.place("Effie").id, material, raised, shelter, ""
    )
    grow_too(effie, new, AT)
    with season.house.books.writing() as tx:
        batch = BATCHES.all(tx, season.circle_id)[-1]
        BATCHES.change(tx, season.circle_id, batch.id, since=since)
    return batch.id


def named(season):
    found = frost_tonight(season.ring.actor("Effie"), AT)
    return [pots.cold.batch.id for one in found for pots in one.pots]


def test_unhardened_plants_in_a_cold_house_are_named(season):
    batch = stand(season, ShelterKind.COLD)
    (found,) = frost_tonight(season.ring.actor("Effie"), AT)

    assert named(season) == [batch]
    assert found.day == MONDAY
    assert found.low_c < 0 < found.frost_chance
    assert found.pots[0].sentence == (
        "3\u00a0rooted cuttings of Dahlia\u00a0‘Chapel Lantern’, raised cool, "
        "in the cold greenhouse or frame: carry them indoors"
    )


def test_hardened_plants_that_came_long_ago_are_not(season):
    stand(season, ShelterKind.COLD, raised=Raised.HARDENED, since=LONG_AGO)

    assert named(season) == []


def test_hardened_plants_that_came_lately_are(season):
    lately = stand(
        season, ShelterKind.COLD, raised=Raised.HARDENED, since=LONG_AGO + timedelta(days=1)
    )

    assert named(season) == [lately]


def test_resting_tubers_are_watched_only_when_they_came_lately(season):
    stand(season, ShelterKind.OPEN_GROUND, material=Material.POT_TUBER, since=LONG_AGO)
    lately = stand(season, ShelterKind.OPEN_GROUND, material=Material.POT_TUBER, since=MONDAY)

    assert named(season) == [lately]


def test_what_stands_warm_is_left_alone(season):
    for kind in (ShelterKind.INDOORS, ShelterKind.PROPAGATOR, ShelterKind.HEATED):
        stand(season, kind, raised=Raised.IN_HEAT)

    assert named(season) == []


def test_a_frost_free_house_is_warm_enough_for_cool_plants_and_not_for_heat_raised(season):
    stand(season, ShelterKind.FROST_FREE, raised=Raised.COOL)
    tender = stand(season, ShelterKind.FROST_FREE, raised=Raised.IN_HEAT)

    assert named(season) == [tender]


def test_a_mild_night_names_nothing(season):
    stand(season, ShelterKind.OPEN_GROUND, raised=Raised.IN_HEAT)
    tell_weather(season, AT + timedelta(minutes=1))

    assert named(season) == []


def test_the_letter_names_the_pots_and_the_hour_of_sunset(season):
    stand(season, ShelterKind.COLD)
    assert tell_frost(season.clock, AT) == 1
    with season.house.books.reading() as tx:
        (letter,) = LETTERS.all(tx, season.circle_id, kind="frost_tonight")

    assert letter.member_id == season.ring["Effie"].id
    assert "3\u00a0rooted cuttings" in letter.body
    assert "before sunset, at 8.0" in letter.body, "in Inverness on 5 April: about five past eight"
    assert "from the forecast" in letter.body


def test_sunset_is_told_in_the_zone_of_the_place(season):
    stand(season, ShelterKind.COLD)
    (found,) = frost_tonight(season.ring.actor("Effie"), AT)
    about = datetime(2027, 4, 5, 20, 5, tzinfo=ZoneInfo("Europe/London"))

    assert found.sunset is not None
    assert abs(found.sunset - about) < timedelta(minutes=6)


def test_it_is_said_once_a_night(season):
    stand(season, ShelterKind.COLD)
    tell_weather(season, AT, frost=(MONDAY, MONDAY + timedelta(days=1)))
    for at in (AT, AT + timedelta(minutes=30), AT + timedelta(days=1)):
        tell_frost(season.clock, at)
    with season.house.books.reading() as tx:
        assert len(LETTERS.all(tx, season.circle_id, kind="frost_tonight")) == 2


def test_it_is_told_at_two_in_the_afternoon_of_each_place(season):
    hours = [hour for hour in range(24) if is_frost_hour(season.clock, morning(MONDAY, hour))]
    assert hours == [14, 15]

    with season.house.books.writing() as tx:
        PLACES.change(tx, season.circle_id, season.ring.place("Effie").id, zone="Europe/Athens")
    assert is_frost_hour(season.clock, morning(MONDAY, 12))


def test_nobody_sees_the_pots_of_others(season):
    stand(season, ShelterKind.COLD)

    assert frost_tonight(season.ring.actor("Cuthbert"), AT) == ()
    with pytest.raises(NotAllowedError):
        frost_tonight(season.ring.actor("Cuthbert"), AT, everybody=True)
    assert len(frost_tonight(season.organiser, AT, everybody=True)) == 1
