from datetime import date

import pytest

from exchange.domain.posting.announced import Ground
from exchange.domain.posting.moved import Moved
from exchange.domain.posting.packing import PACKINGS
from exchange.domain.posting.reasons import DayWord, PostingReason, Stop, Topic
from exchange.domain.posting.strip import StripDay
from exchange.domain.weather.forecast import WeatherSource
from exchange.words.posting.posting_days import (
    day_word,
    moved,
    packing,
    reason,
    wait_mark,
    wait_rule,
    weather_source,
    why_moved,
)

MONDAY, FRIDAY = date(2027, 4, 12), date(2027, 4, 16)


def said(value):
    return value.replace("\u00a0", " ")


@pytest.mark.parametrize("word", DayWord)
def test_every_word_of_a_day_has_its_name_and_its_sentence(word):
    assert day_word(StripDay(MONDAY, word))
    sentence = reason(PostingReason(word, MONDAY, FRIDAY, 0.12, "the authority"))
    assert sentence[0].isupper()
    assert sentence.endswith(".")
    assert "{" not in sentence


@pytest.mark.parametrize("about", Topic)
def test_every_reason_has_its_sentence(about):
    label = {
        Topic.WOULD_FREE: DayWord.ROOM_FULL.value,
        Topic.WARMER_PACKING: "foam_box",
        Topic.WARM_FROM: "coleus",
    }
    sentence = reason(PostingReason(about, MONDAY, None, 20, label.get(about, "first class")))
    assert sentence.endswith(".")
    assert "{" not in sentence


def test_a_spell_of_days_tells_its_best_and_its_worst():
    spell = PostingReason(DayWord.FROST_THERE, MONDAY, FRIDAY, 0.12, "", 0.97)

    assert said(reason(spell)).endswith("frost at the receiver’s end, 12 to 97 in 100 lost.")


@pytest.mark.parametrize(
    ("week", "kind", "sentence"),
    [
        (date(2027, 5, 31), "coleus", "Warm enough for coleus: about the last week of May."),
        (date(2027, 4, 12), "dahlia", "Warm enough for dahlias: about the second week of April."),
        (date(2027, 5, 3), "other", "Warm enough for it: about the first week of May."),
        (None, "coleus", "Usual nights are never warm enough for coleus at both ends."),
    ],
)
def test_what_waits_for_warmth_says_from_about_which_week(week, kind, sentence):
    assert said(reason(PostingReason(Topic.WARM_FROM, week, label=kind))) == sentence


@pytest.mark.parametrize(
    ("limit", "by_hand", "rule"),
    [
        (1.5, False, "If 1.5 °C or less is forecast at either end, wait."),
        (-2.0, False, "If −2 °C or less is forecast at either end, wait."),
        (-2.0, True, "If −2 °C or less is expected on the way, wait."),
        (None, False, "Wait if frost is forecast at either end."),
    ],
)
def test_the_rule_to_wait_stands_without_the_program(limit, by_hand, rule):
    assert said(wait_rule(limit, by_hand=by_hand)) == rule


def test_the_mark_beside_a_line_says_the_same_as_the_rule():
    assert said(wait_mark(-2.0)) == "at −2 °C or less, wait"


def test_a_holiday_goes_by_its_name():
    assert day_word(StripDay(MONDAY, DayWord.HOLIDAY, "Easter Monday")) == "Easter Monday"


def test_every_packing_and_every_source_has_a_name():
    assert len({packing(one.key) for one in PACKINGS}) == len(PACKINGS)
    assert len({weather_source(one) for one in WeatherSource}) == len(WeatherSource)


def test_a_move_says_from_when_to_when_and_why():
    stopped = Moved(MONDAY, FRIDAY, Stop(DayWord.AWAY), 0.2, 0.01, Ground.STOPPED)
    assert said(moved(stopped)) == (
        "Moved from Mon 12 April to Fri 16 April. "
        "Mon 12 April: the day it would come does not suit."
    )
    frost = Stop(DayWord.FROST_THERE, number=0.2)
    riskier = Moved(MONDAY, None, frost, 0.2, None, Ground.RISKIER, 0.03)
    assert said(moved(riskier)).startswith("No longer on Mon 12 April: wait. Mon 12 April: ")
    assert said(moved(riskier)).endswith("20 in 100 lost; it was 3 in 100 when it was told.")
    better = Moved(MONDAY, FRIDAY, None, 0.04, 0.01, Ground.SAFER)
    assert said(moved(better)).endswith("1 in 100 lost instead of 4 in 100.")


def test_a_day_that_is_not_announced_is_named_by_its_week():
    later = Moved(MONDAY, FRIDAY, None, 0.2, 0.01, Ground.RISKIER, announced=False)
    assert "but about the week of Mon 12 April" in said(moved(later))
    assert said(why_moved(later)[-1]) == "It is now meant for about the week of Mon 12 April."


def test_a_move_kept_before_grounds_were_is_still_told():
    for old in (
        Moved(MONDAY, FRIDAY, None, 0.04, 0.01),
        Moved(MONDAY, FRIDAY, None, 0.01, 0.04),
        Moved(MONDAY, None, Stop(DayWord.PAST), None, None),
    ):
        assert said(moved(old)).endswith(".")
    waits = Moved(MONDAY, None, Stop(DayWord.UNKNOWN), None, None, None)
    assert said(moved(waits)).startswith("No longer on Mon 12 April: wait.")
