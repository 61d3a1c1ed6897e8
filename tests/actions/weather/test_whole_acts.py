"""What an act on the weather writes stands or falls together: broken in the middle, it leaves nothing."""

from datetime import date, timedelta

import pytest

from exchange.actions.growing.batches import NewBatch, grow_too
from exchange.actions.kernel.edits import EditedMeanwhileError
from exchange.actions.weather import frost_tonight
from exchange.actions.weather.frost_notes import note_frost, note_page, remove_note
from exchange.actions.weather.frost_tonight import tell_frost
from exchange.actions.weather.observations import forget_night, observe
from exchange.actions.weather.own_daily_file import drop_file, keep_file, look_over
from exchange.domain.growing.batch import Material, Raised
from exchange.domain.growing.shelter import ShelterKind
from exchange.records import FROST_NOTES
from tests.app_fixtures import NOW, a_day
from tests.builders.breaking import BrokenError, break_at, dump
from tests.builders.season import MONDAY, morning, tell_weather

TOMORROW = a_day(6)
CONTENT = b"date,tmin_c\n2027-04-01,-1.5\n2027-04-02,2.0\n"


def effie(season):
    return season.ring.actor("Effie"), season.ring.place("Effie").id


def test_letters_of_a_frost_are_all_written_or_none(season, monkeypatch):
    for name in ("Effie", "Cuthbert"):
        batch = NewBatch(
            season.variety_id,
            3,
            season.ring.place(name).id,
            Material.ROOTED,
            Raised.COOL,
            ShelterKind.COLD,
            "",
        )
        grow_too(season.ring.actor(name), batch, NOW)
    at = morning(MONDAY, 14)
    tell_weather(season, at, frost=(MONDAY,))
    before = dump(season.house.books)
    write, written = frost_tonight.write, []

    def breaks_at_the_second(*letter):
        if written:
            raise BrokenError("write")
        written.append(write(*letter))

    with monkeypatch.context() as patch:
        patch.setattr(frost_tonight, "write", breaks_at_the_second)
        with pytest.raises(BrokenError):
            tell_frost(season.clock, at)

    assert written, "one was written, and went with the others"
    assert dump(season.house.books) == before
    assert tell_frost(season.clock, at) > 1


ACTS = {
    "frost noted": (
        lambda actor, place: note_frost(actor, place, TOMORROW, -2.0, NOW),
        lambda actor, place, _made: note_frost(actor, place, TOMORROW, -4.0, NOW),
        "frost_notes.note",
    ),
    "note taken away": (
        lambda actor, place: note_frost(actor, place, TOMORROW, -2.0, NOW),
        lambda actor, _place, made: remove_note(actor, made, NOW),
        "frost_notes.note",
    ),
    "night typed in": (
        lambda _actor, _place: None,
        lambda actor, place, _made: observe(actor, place, date(2027, 4, 4), -1.0, NOW),
        "observations.note",
    ),
    "night taken away": (
        lambda actor, place: observe(actor, place, date(2027, 4, 4), -1.0, NOW),
        lambda actor, _place, made: forget_night(actor, made, NOW),
        "observations.note",
    ),
    "file kept": (
        lambda actor, place: look_over(actor, place, "own.csv", CONTENT, NOW),
        lambda actor, _place, made: keep_file(actor, made, NOW),
        "own_daily_file.note",
    ),
    "file taken away": (
        lambda actor, place: keep_file(actor, look_over(actor, place, "a.csv", CONTENT, NOW), NOW),
        lambda actor, _place, made: drop_file(actor, made.id, NOW),
        "own_daily_file.note",
    ),
}


@pytest.mark.parametrize("act", ACTS)
def test_an_act_that_breaks_in_the_middle_leaves_nothing(season, monkeypatch, act):
    first, pressed, step = ACTS[act]
    actor, place = effie(season)
    made = first(actor, place)
    before = dump(season.house.books)

    with monkeypatch.context() as patch:
        break_at(patch, f"exchange.actions.weather.{step}")
        with pytest.raises(BrokenError):
            pressed(actor, place, made)

    assert dump(season.house.books) == before
    pressed(actor, place, made)
    assert dump(season.house.books) != before


def notes_of(season):
    with season.house.books.reading() as tx:
        found = FROST_NOTES.all(tx, season.circle_id)
    return {one.night: one.minimum_c for one in found}


def test_a_note_of_the_same_night_made_meanwhile_is_not_written_over_unseen(season):
    actor, place = effie(season)
    opened = note_page(actor, place, NOW).version
    note_frost(actor, place, TOMORROW, -1.0, NOW, opened)

    with pytest.raises(EditedMeanwhileError) as refused:
        note_frost(actor, place, TOMORROW, -5.0, NOW, opened)

    assert notes_of(season) == {TOMORROW: -1.0}
    note_frost(actor, place, TOMORROW, -5.0, NOW, refused.value.version)
    assert notes_of(season) == {TOMORROW: -5.0}


def test_a_note_of_another_night_stands_in_nobodys_way(season):
    actor, place = effie(season)
    opened = note_page(actor, place, NOW).version
    note_frost(actor, place, TOMORROW, -1.0, NOW, opened)

    note_frost(actor, place, TOMORROW + timedelta(days=1), -2.0, NOW, opened)

    assert len(notes_of(season)) == 2
