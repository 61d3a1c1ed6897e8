"""The sender's answer: yes, quietly no, fewer, later; the reserve moves up and nobody is named."""

from datetime import timedelta

import pytest

from exchange.actions.kernel.actor import NotAllowedError
from exchange.actions.posting.questions import ask_questions
from exchange.actions.sharing.sender_answer import (
    AnswerRefusedError,
    SenderAnswer,
    answer_as_sender,
    to_answer,
)
from exchange.actions.sharing.spares import list_spare
from exchange.domain.sharing.states import STANDING, AllocationState
from exchange.records import ALLOCATIONS, LETTERS, PARCEL_LINES, SPARES
from tests.app_fixtures import Visitor
from tests.builders.season import MONDAY, a_season, a_spare, morning, tell_weather
from tests.builders.tasks import offer_to_reserve

NOW = morning(MONDAY, 9)
WEEK = timedelta(days=7)


@pytest.fixture
def season(here):
    made = a_season(here.house, now=NOW, asked=2, count=4)
    tell_weather(made, NOW)
    made.plan(NOW)
    here.clock.at = NOW
    return made


def the_answer_link(season, kind="share_out"):
    with season.house.books.reading() as tx:
        letters = LETTERS.all(tx, season.circle_id, member_id=season.ring["Winnie"].id, kind=kind)
    return next(
        line[line.index("/answer/") :]
        for line in letters[0].body.splitlines()
        if "/answer/sender-answer/" in line
    )


def standing(season):
    with season.house.books.reading() as tx:
        return ALLOCATIONS.all(tx, season.circle_id, state=STANDING)


def spare(season, name="Winnie"):
    with season.house.books.reading() as tx:
        return SPARES.get(tx, season.circle_id, season.spares[name])


def test_the_letter_of_the_share_out_asks_senders_and_only_them(season):
    with season.house.books.reading() as tx:
        letters = LETTERS.all(tx, season.circle_id, kind="share_out")
    asking = [one.member_id for one in letters if "/answer/sender-answer/" in one.body]

    assert asking == [season.ring["Winnie"].id]
    assert len(letters) == 3


def test_yes_to_all_is_one_press(here, season):
    path = the_answer_link(season)
    page = Visitor(here).get(path)
    assert "Yes, all of it" in page.text
    assert "Effie" in page.text
    assert "Pellow" not in page.text, "no surname stands on a page opened without signing in"

    thanks = Visitor(here).post(path, {"answer": "all"})

    assert thanks.status_code == 200
    assert {one.state for one in standing(season)} == {AllocationState.AGREED}
    assert Visitor(here).post(path, {"answer": "all"}).status_code == 410


def test_fewer_and_later_by_the_page(here, season):
    one, other = to_answer(season.ring.actor("Winnie"))
    later = (MONDAY + WEEK).isoformat()
    fields = {
        "answer": "each",
        f"count-{one.allocation_id}": "1",
        f"later-{one.allocation_id}": later,
        f"count-{other.allocation_id}": "2",
        f"later-{other.allocation_id}": "",
    }

    thanks = Visitor(here).post(the_answer_link(season), fields)

    assert thanks.status_code == 200
    assert "3\u00a0plants can go" in thanks.text
    counts = {one.id: one.count for one in standing(season)}
    assert counts == {one.allocation_id: 1, other.allocation_id: 2}
    assert (spare(season).count, spare(season).allocated) == (3, 3)
    assert spare(season).ready_from.isoformat() == later


def test_what_stays_in_the_parcel_is_what_can_go(season):
    one, other = to_answer(season.ring.actor("Winnie"))

    answer_as_sender(
        season.ring.actor("Winnie"),
        [SenderAnswer(one.allocation_id, 1), SenderAnswer(other.allocation_id, 0)],
        NOW,
    )

    with season.house.books.reading() as tx:
        lines = PARCEL_LINES.all(tx, season.circle_id)
    assert [(line.allocation_id, line.count) for line in lines] == [(one.allocation_id, 1)]
    assert len(season.parcels()) == 1, "an empty parcel is gone"


def test_a_quiet_no_moves_the_reserve_up(season):
    """The one let down is given another spare of the variety."""
    effie, cuthbert = season.ring.actor("Effie"), season.ring.actor("Cuthbert")
    asked = to_answer(season.ring.actor("Winnie"))
    season.spares["Cuthbert"] = list_spare(cuthbert, a_spare(season.variety_id, 1, NOW), NOW)
    for_effie = next(one for one in asked if one.other == "Effie")

    answer_as_sender(season.ring.actor("Winnie"), [SenderAnswer(for_effie.allocation_id, 0)], NOW)

    assert offer_to_reserve(season.organiser, NOW) == 1
    new = [one for one in standing(season) if one.spare_id == season.spares["Cuthbert"]]
    assert [one.claim_id for one in new] == [season.claims["Effie"]]
    assert effie.household_id is not None


def test_more_than_was_asked_for_is_refused_and_nothing_changes(here, season):
    one = to_answer(season.ring.actor("Winnie"))[0]
    path = the_answer_link(season)

    refused = Visitor(here).post(path, {"answer": "each", f"count-{one.allocation_id}": "9"})

    assert refused.status_code == 422
    assert {row.state for row in standing(season)} == {AllocationState.CONFIRMED}
    assert Visitor(here).get(path).status_code == 200, "a refused answer leaves the link unused"


def test_later_than_the_last_day_is_refused(season):
    one = to_answer(season.ring.actor("Winnie"))[0]

    with pytest.raises(AnswerRefusedError, match="must go by"):
        answer_as_sender(
            season.ring.actor("Winnie"),
            [SenderAnswer(one.allocation_id, 1, one.send_by + timedelta(days=1))],
            NOW,
        )


def test_nobody_answers_for_another_household(season):
    one = to_answer(season.ring.actor("Winnie"))[0]

    with pytest.raises(NotAllowedError):
        answer_as_sender(season.ring.actor("Effie"), [SenderAnswer(one.allocation_id, 0)], NOW)


def test_a_week_before_posting_the_sender_is_asked_whether_all_is_ready(here, tmp_path):
    season = a_season(here.house, now=morning(MONDAY, 9))
    tell_weather(season, NOW)
    with season.house.books.writing() as tx:
        SPARES.change(tx, season.circle_id, season.spares["Winnie"], ready_from=MONDAY + 2 * WEEK)
    season.plan(NOW)
    assert {one.announced_day for one in season.parcels()} == {None}
    assert {one.posting_day for one in season.parcels()} == {MONDAY + 2 * WEEK}

    by_day = {
        day: ask_questions(season.clock, morning(MONDAY + timedelta(days=day), 9)).still_ready
        for day in range(14)
    }

    assert by_day == {day: 2 if day == 7 else 0 for day in range(14)}
    here.clock.at = morning(MONDAY + WEEK, 10)
    path = the_answer_link(season, "still_ready")
    page = Visitor(here).get(path)
    assert page.text.count("How many can go?") == 1, "only what is in that parcel is asked about"


def test_who_answered_just_now_is_not_asked_again(season):
    with season.house.books.writing() as tx:
        SPARES.change(tx, season.circle_id, season.spares["Winnie"], ready_from=MONDAY + WEEK)
    season.plan(NOW)

    assert ask_questions(season.clock, NOW).still_ready == 0
