from datetime import UTC, date, datetime, timedelta

from exchange.domain.weather.nights import night_minima
from exchange.forecasts.frost_note import FrostNote, fetch
from tests.builders.weather import NOW, a_place

SATURDAY = date(2026, 4, 18)


def a_note(minimum=-3.0, *, place_id=1, night=SATURDAY, heard_at=NOW):
    return FrostNote(place_id, night, minimum, heard_at)


def noted(*notes, now=NOW, place=None):
    return fetch((place or a_place(),), now, notes=notes).forecasts


def test_a_note_names_one_night():
    (forecast,) = noted(a_note())

    assert night_minima(forecast.readings, "Europe/London") == {SATURDAY: -3.0}
    assert forecast.source == "frost note"
    assert forecast.regressed


def test_a_note_on_the_night_the_clock_goes_back_names_it_too():
    night = date(2026, 10, 24)
    heard = datetime(2026, 10, 24, 9, tzinfo=UTC)
    (forecast,) = noted(a_note(night=night, heard_at=heard), now=heard)

    assert len(forecast.readings) == 25
    assert night_minima(forecast.readings, "Europe/London") == {night: -3.0}


def test_the_later_of_two_notes_on_a_night_counts():
    earlier = a_note(-5.0, heard_at=NOW - timedelta(hours=3))
    (forecast,) = noted(a_note(-1.0), earlier)

    assert night_minima(forecast.readings, "Europe/London") == {SATURDAY: -1.0}


def test_notes_on_nights_gone_by_and_on_other_places_are_left_out():
    assert noted(a_note(night=date(2026, 4, 16))) == ()
    assert noted(a_note(place_id=2)) == ()
