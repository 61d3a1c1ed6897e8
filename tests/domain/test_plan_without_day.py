"""A parcel without a day is not ready, waits for weather, or has no way: three kinds, kept apart."""

from datetime import date

from exchange.domain.circle.border import BorderRow, Passage
from exchange.domain.growing.shelter import Shelter, ShelterKind
from exchange.domain.posting.answer import PostingAnswer
from exchange.domain.posting.reasons import DayWord
from exchange.words.kernel.phrase import NBSP
from exchange.words.posting.posting_days import reasons
from tests.builders.posting import (
    a_line,
    a_parcel,
    a_place,
    an_outlook,
    plan_one,
    words,
)


def test_a_full_place_has_no_day_yet_and_says_what_would_free_it():
    plan = plan_one(
        shelters=(Shelter(2, ShelterKind.HEATED, room_pots=3),),
        room_taken={2: {date(2027, 1, 1): 3}},
    )
    assert (plan.answer, plan.held) == (PostingAnswer.NO_WAY, True)
    assert any("room for pots" in sentence for sentence in reasons(plan))


def test_a_border_that_blocks_gives_no_day_and_names_the_authority():
    rows = (BorderRow("GB", "NI", Passage.BLOCKED, "A certificate is needed.", "DAERA"),)
    plan = plan_one(places={1: a_place(1), 2: a_place(2, subdivision="NIR")}, borders=rows)
    assert plan.answer is PostingAnswer.NO_WAY
    assert any("DAERA" in sentence for sentence in reasons(plan))


def test_what_is_ready_later_than_three_weeks_on_says_when():
    plan = plan_one([a_parcel(1, lines=(a_line(1, ready_from=date(2027, 5, 10)),))])
    assert plan.answer is PostingAnswer.NOT_READY
    assert reasons(plan)[0].replace(NBSP, " ") == (
        "It is ready on Mon 10 May; nothing to do until then."
    )


def test_what_is_not_ready_today_does_not_wait_for_weather_though_its_days_are_cold():
    late = a_parcel(1, lines=(a_line(1, ready_from=date(2027, 4, 12)),))

    plan = plan_one([late], outlooks={1: an_outlook(1, means=-8), 2: an_outlook(2, means=-8)})

    assert (plan.answer, plan.held) == (PostingAnswer.NOT_READY, True)
    assert "It is ready on" in reasons(plan)[0]
    assert any("frost at the sender" in sentence for sentence in reasons(plan)[1:])


def test_a_place_without_ways_has_no_day_and_says_so():
    plan = plan_one(ways={})
    assert plan.answer is PostingAnswer.NO_WAY
    assert "No way of sending" in reasons(plan)[0]
    assert set(words(plan).values()) == {DayWord.NO_POST}


def test_a_stale_outlook_that_ends_early_leaves_later_days_unknown():
    short = {n: an_outlook(n, nights=6) for n in (1, 2)}
    plan = plan_one([a_parcel(1, lines=(a_line(1, ready_from=date(2027, 4, 12)),))], outlooks=short)
    assert plan.answer is PostingAnswer.NOT_READY
    assert words(plan)[date(2027, 4, 12)] is DayWord.UNKNOWN
