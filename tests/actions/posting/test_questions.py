"""Did it go, did it come, still ready: asked when due, answered by one press, silence teaches nothing."""

from datetime import timedelta

import pytest

from exchange.actions.kernel.links import Purpose
from exchange.actions.posting.parcels import Arrival, say_arrived
from exchange.actions.posting.plan_facts import facts_of
from exchange.actions.posting.questions import ask_questions
from exchange.domain.arriving.arrival import Condition
from exchange.domain.posting.parcel import ParcelState
from exchange.records import BATCHES, LETTERS
from tests.app_fixtures import Visitor
from tests.builders.season import MONDAY, a_season, morning, tell_weather

SUNDAY, TUESDAY, THURSDAY = (MONDAY + timedelta(days=n) for n in (-1, 1, 3))
MONTH = MONDAY + timedelta(days=30)


@pytest.fixture
def season(here):
    """Parcels announced for Monday the fifth."""
    made = a_season(here.house, now=morning(SUNDAY, 9))
    tell_weather(made, morning(SUNDAY, 9))
    made.plan(morning(SUNDAY, 10))
    return made


def letters(season, kind, first_name):
    member = season.ring[first_name]
    with season.house.books.reading() as tx:
        return LETTERS.all(tx, season.circle_id, member_id=member.id, kind=kind)


def link_in(letter, purpose):
    """Give the path of the one-button link of a letter."""
    start = f"/answer/{purpose.value.replace('_', '-')}/"
    found = [line for line in letter.body.splitlines() if start in line]
    assert len(found) == 1, letter.body
    return found[0][found[0].index(start) :]


def asked(here, season, at, kind, first_name):
    """Ask what is due at an instant; give the parcel and the path of the link in its letter."""
    here.clock.at = at
    ask_questions(season.clock, at)
    letter = letters(season, kind, first_name)[0]
    parcel = next(one for one in season.parcels() if one.code in letter.subject)
    return parcel, link_in(letter, Purpose(kind if kind != "still_ready" else "sender_answer"))


def parcel_now(season, parcel):
    return next(one for one in season.parcels() if one.id == parcel.id)


def test_the_day_after_the_posting_day_the_sender_is_asked_once(season):
    on_the_day = ask_questions(season.clock, morning(MONDAY, 9))
    the_day_after = ask_questions(season.clock, morning(TUESDAY, 9))
    again = ask_questions(season.clock, morning(TUESDAY, 12))

    assert (on_the_day.did_it_go, the_day_after.did_it_go, again.did_it_go) == (0, 2, 0)
    assert len(letters(season, "did_it_go", "Winnie")) == 2
    assert letters(season, "did_it_go", "Effie") == ()


def test_one_press_says_that_it_went(here, season):
    parcel, path = asked(here, season, morning(TUESDAY, 9), "did_it_go", "Winnie")
    page = Visitor(here).get(path)

    assert page.status_code == 200
    assert "Yes, it went on Mon" in page.text
    assert parcel_now(season, parcel).state is ParcelState.ANNOUNCED, "looking says nothing"

    thanks = Visitor(here).post(path, {"answer": "went"})
    again = Visitor(here).post(path, {"answer": "went"})

    assert thanks.status_code == 200
    assert again.status_code == 410
    assert parcel_now(season, parcel).state is ParcelState.POSTED
    assert parcel_now(season, parcel).posted_on == MONDAY


def test_it_may_have_gone_on_another_day(here, season):
    parcel, path = asked(here, season, morning(TUESDAY, 9), "did_it_go", "Winnie")

    refused = Visitor(here).post(path, {"answer": "went_other", "day": "2027-04-30"})
    nothing = Visitor(here).post(path, {"answer": "went_other", "day": ""})
    said = Visitor(here).post(path, {"answer": "went_other", "day": TUESDAY.isoformat()})

    assert refused.status_code == nothing.status_code == 422
    assert "still to come" in refused.text
    assert said.status_code == 200
    assert parcel_now(season, parcel).posted_on == TUESDAY


def test_what_has_not_gone_is_planned_anew(here, season):
    parcel, path = asked(here, season, morning(TUESDAY, 9), "did_it_go", "Winnie")

    Visitor(here).post(path, {"answer": "not_gone"})
    waiting = parcel_now(season, parcel)
    tell_weather(season, morning(TUESDAY, 9))
    season.plan(morning(TUESDAY, 10))

    assert (waiting.state, waiting.posting_day, waiting.held) == (ParcelState.PLANNED, None, True)
    assert parcel_now(season, parcel).announced_day >= TUESDAY
    others = [one for one in season.parcels() if one.id != parcel.id]
    assert [one.announced_day for one in others] == [MONDAY], "of the other nothing was said"


def test_what_has_not_gone_may_go_on_a_day_the_sender_names(here, season):
    parcel, path = asked(here, season, morning(TUESDAY, 9), "did_it_go", "Winnie")
    next_monday = MONDAY + timedelta(days=7)

    thanks = Visitor(here).post(path, {"answer": "not_gone", "new_day": next_monday.isoformat()})

    assert thanks.status_code == 200
    assert parcel_now(season, parcel).announced_day == next_monday


def test_the_day_after_the_last_expected_day_the_receiver_is_asked(season):
    parcel = season.parcel_to("Effie")
    assert parcel.arrival_to is not None
    asked_on = [
        day
        for day in (MONDAY + timedelta(days=n) for n in range(14))
        if ask_questions(season.clock, morning(day, 9)).did_it_come
    ]

    lasts = {one.arrival_to + timedelta(days=1) for one in season.parcels()}
    assert set(asked_on) == lasts
    assert len(letters(season, "did_it_come", "Effie")) == 1
    assert letters(season, "did_it_come", "Winnie") == ()


def test_came_and_all_well_is_one_press_on_its_day(here, season):
    parcel, path = asked(
        here, season, morning(MONDAY + timedelta(days=8), 9), "did_it_come", "Effie"
    )
    page = Visitor(here).get(path)
    assert f'value="{parcel.arrival_from.isoformat()}"' in page.text

    thanks = Visitor(here).post(path, {"condition": "well", "on": parcel.arrival_from.isoformat()})

    came = parcel_now(season, parcel)
    assert thanks.status_code == 200
    assert (came.state, came.arrived_on) == (ParcelState.ARRIVED, parcel.arrival_from)
    assert came.condition == Condition.WELL.value
    with season.house.books.reading() as tx:
        there = BATCHES.all(tx, season.circle_id, household_id=season.ring["Effie"].household_id)
    assert sum(one.plants for one in there) == 1, "what came lives with the receiver"


def test_how_it_came_is_kept(here, season):
    parcel, path = asked(
        here, season, morning(MONDAY + timedelta(days=8), 9), "did_it_come", "Effie"
    )

    Visitor(here).post(path, {"condition": "limp", "on": parcel.arrival_from.isoformat()})

    assert parcel_now(season, parcel).condition == Condition.LIMP.value


def test_not_come_yet_notes_nothing_and_the_link_goes_on_working(here, season):
    parcel, path = asked(
        here, season, morning(MONDAY + timedelta(days=8), 9), "did_it_come", "Effie"
    )

    not_yet = Visitor(here).post(path, {"condition": "well", "answer": "not_yet"})
    nothing = parcel_now(season, parcel)
    lost = Visitor(here).post(path, {"condition": "well", "answer": "never"})

    assert "goes on working" in not_yet.text
    assert nothing.state is ParcelState.ANNOUNCED
    assert lost.status_code == 200
    assert parcel_now(season, parcel).state is ParcelState.LOST


def test_arrival_implies_posting_and_stops_both_questions(season):
    parcel = season.parcel_to("Effie")
    say_arrived(season.ring.actor("Effie"), parcel.id, Arrival(TUESDAY), morning(TUESDAY, 15))
    told = ask_questions(season.clock, morning(MONDAY + timedelta(days=8), 9))

    assert parcel_now(season, parcel).state is ParcelState.ARRIVED
    assert told.did_it_go == told.did_it_come == 1, "only the other parcel is asked about"


def test_silence_teaches_nothing(season):
    for day in range(40):
        ask_questions(season.clock, morning(MONDAY + timedelta(days=day), 9))
    with season.house.books.reading() as tx:
        facts = facts_of(tx, season.circle_id, morning(MONTH, 9))

    assert facts.answers == {}
    assert {one.state for one in season.parcels()} == {ParcelState.ANNOUNCED}


def test_an_answer_of_both_ends_teaches_the_odds(here, season):
    parcel, path = asked(here, season, morning(TUESDAY, 9), "did_it_go", "Winnie")
    Visitor(here).post(path, {"answer": "went"})
    first_name = "Effie" if parcel.id == season.parcel_to("Effie").id else "Cuthbert"
    came = Arrival(MONDAY + timedelta(days=2))
    say_arrived(season.ring.actor(first_name), parcel.id, came, morning(THURSDAY, 9))
    with season.house.books.reading() as tx:
        facts = facts_of(tx, season.circle_id, morning(MONTH, 9))

    assert [sum(row) for row in facts.answers.values()] == [1]
    assert next(iter(facts.answers.values()))[1] == 1, "it came on the second delivery day"


def test_long_ago_is_not_asked_about(season):
    told = ask_questions(season.clock, morning(MONTH, 9))

    assert (told.did_it_go, told.did_it_come) == (0, 0)
