"""Frost notes, and what an evening's own reading means."""

from datetime import date, timedelta

import pytest

from exchange.actions.growing.varieties import name_variety
from exchange.actions.kernel.actor import NotAllowedError
from exchange.actions.weather.frost_notes import (
    Evening,
    NoteRefusedError,
    ReadingRefusedError,
    frost_tonight_at,
    note_frost,
    remove_note,
    sunset_at,
)
from exchange.actions.weather.outlooks import outlooks
from exchange.domain.growing.batch import Material, Raised
from exchange.domain.growing.shelter import ShelterKind
from exchange.domain.growing.variety import Species
from exchange.domain.weather.blend import chance_in
from exchange.records import BATCHES, FROST_NOTES, PLACES, forecasts_kept
from tests.app_fixtures import NOW, a_house, ring
from tests.builders.weather import a_forecast, hourly

TONIGHT, TOMORROW = date(2027, 4, 5), date(2027, 4, 6)


@pytest.fixture
def circle(tmp_path):
    with a_house(tmp_path) as house:
        yield ring(house)


def outlook(circle, name="Effie"):
    with circle.house.books.reading() as tx:
        return outlooks(tx, circle.circle_id, NOW)[circle.place(name).id]


def an_evening(temperature=4.0, dew=None, *, clear=True, still=True):
    return Evening(temperature, dew, clear, still)


def test_a_note_makes_its_night_colder_and_can_be_taken_away(circle):
    before = outlook(circle)
    note_id = note_frost(circle.actor("Effie"), circle.place("Effie").id, TOMORROW, -4.0, NOW)

    assert outlook(circle).night(TOMORROW).mean_c == -4.0
    assert outlook(circle).night(TONIGHT) == before.night(TONIGHT)

    remove_note(circle.actor("Effie"), note_id, NOW)

    assert outlook(circle) == before


def test_a_mild_note_warms_nothing(circle):
    before = outlook(circle)
    note_frost(circle.actor("Effie"), circle.place("Effie").id, TOMORROW, 18.0, NOW)

    assert outlook(circle).nights == before.nights


def test_of_two_notes_on_a_night_the_later_counts(circle):
    for low in (-8.0, -2.0):
        note_frost(circle.actor("Effie"), circle.place("Effie").id, TOMORROW, low, NOW)

    with circle.house.books.reading() as tx:
        assert [one.minimum_c for one in FROST_NOTES.all(tx, circle.circle_id)] == [-2.0]


def test_far_from_every_station_a_note_stands_alone(circle):
    place = circle.place("Effie").id
    with circle.house.books.writing() as tx:
        PLACES.change(tx, circle.circle_id, place, latitude=0.0, longitude=-30.0)
    assert outlook(circle).nights == ()

    note_frost(circle.actor("Effie"), place, TOMORROW, -2.0, NOW)

    (night,) = outlook(circle).nights
    assert (night.day, night.mean_c) == (TOMORROW, -2.0)


def test_the_organiser_notes_for_any_place_and_a_member_for_her_own(circle):
    note_frost(circle.actor("Winnie"), circle.place("Effie").id, TOMORROW, -1.0, NOW)

    with pytest.raises(NotAllowedError):
        note_frost(circle.actor("Cuthbert"), circle.place("Effie").id, TOMORROW, -9.0, NOW)
    assert outlook(circle).night(TOMORROW).mean_c == -1.0


@pytest.mark.parametrize(
    ("night", "low", "field"),
    [
        (date(2027, 3, 1), -2.0, "night"),
        (date(2027, 6, 1), -2.0, "night"),
        (TOMORROW, -70.0, "minimum_c"),
    ],
)
def test_a_note_of_long_ago_or_beyond_belief_is_refused(circle, night, low, field):
    with pytest.raises(NoteRefusedError) as refused:
        note_frost(circle.actor("Effie"), circle.place("Effie").id, night, low, NOW)

    assert refused.value.field == field


def test_an_evening_reading_stands_beside_the_night_and_is_not_joined_with_it(circle):
    answer = frost_tonight_at(circle.actor("Effie"), circle.place("Effie").id, an_evening(2.0), NOW)

    assert answer.said.holds
    assert answer.said.sd_k > 2.0
    assert answer.night == outlook(circle).night(TONIGHT)
    assert answer.said.minimum_c < answer.night.mean_c
    assert answer.sunset.date() == TONIGHT


def test_in_wind_or_under_cloud_the_night_stays_as_it_was(circle):
    for evening in (an_evening(clear=False), an_evening(still=False)):
        answer = frost_tonight_at(circle.actor("Effie"), circle.place("Effie").id, evening, NOW)
        assert not answer.said.holds
        assert answer.night == outlook(circle).night(TONIGHT)


def test_pots_are_named_by_the_worse_of_reading_and_forecast(circle):
    effie, place = circle.actor("Effie"), circle.place("Effie")
    variety = name_variety(effie, "Chapel Lantern", Species.DAHLIA, NOW)
    with circle.house.books.writing() as tx:
        warm = a_forecast(
            hourly([9.0] * 96, start=NOW - timedelta(hours=NOW.hour + 24)),
            place_id=place.id,
            issued_at=NOW,
        )
        forecasts_kept.add(tx, circle.circle_id, warm)
        BATCHES.add(
            tx,
            circle.circle_id,
            household_id=place.household_id,
            place_id=place.id,
            variety_id=variety.id,
            material=Material.YOUNG_PLANT,
            raised=Raised.COOL,
            plants=3,
            shelter=ShelterKind.COLD,
        )

    cold, windy = (
        frost_tonight_at(effie, place.id, evening, NOW)
        for evening in (an_evening(2.0), an_evening(2.0, still=False))
    )

    assert chance_in(cold.night) < 0.05
    assert cold.said.frost_chance > 0.9
    assert [one.cold.batch.plants for one in cold.pots] == [3]
    assert windy.pots == ()


def test_a_dew_point_above_the_temperature_is_refused(circle):
    with pytest.raises(ReadingRefusedError):
        frost_tonight_at(
            circle.actor("Effie"), circle.place("Effie").id, an_evening(2.0, dew=3.0), NOW
        )


def test_where_the_sun_does_not_set_there_is_no_evening(circle):
    with circle.house.books.writing() as tx:
        PLACES.change(tx, circle.circle_id, circle.place("Effie").id, latitude=78.2)
    summer = NOW + timedelta(days=80)

    assert sunset_at(circle.place("Effie"), summer) is None
    with pytest.raises(ReadingRefusedError):
        frost_tonight_at(circle.actor("Effie"), circle.place("Effie").id, an_evening(), summer)
