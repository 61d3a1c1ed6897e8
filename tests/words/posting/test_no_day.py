"""Parcels without a day, said in words."""

from datetime import date

import pytest

from exchange.words.posting.no_day import hurt_under, lead, ready_from, told_from, waits_for

TODAY = date(2027, 4, 5)


def plain(text):
    return text.replace("\u00a0", " ")


@pytest.mark.parametrize(
    ("counts", "text"),
    [
        ((1, 1, 2), "Four of your 7. Two are not ready, one waits for milder nights and one has no way to go. Only what has no way needs you."),
        ((0, 3, 0), "Three of your 7. Three wait for milder nights. Nothing needs you."),
        ((0, 0, 0), "Every parcel that is still to go has a day."),
    ],
)  # fmt: skip
def test_the_three_kinds_are_counted_apart(counts, text):
    assert lead(*counts, 7, own=True) == text


def test_what_waits_says_for_what_and_about_when():
    assert plain(waits_for(7.0, date(2027, 5, 31))) == (
        "Waits for usual nights over 7 °C at both ends: about the last week of May."
    )
    assert plain(waits_for(12.0, None)).endswith("at both ends: they never are so warm.")


@pytest.mark.parametrize(
    ("ready", "told"),
    [
        (date(2027, 4, 26), "The day is told from Thu 22 April on, once one is good enough."),
        (date(2027, 4, 10), "The day is told from Tue 6 April on, once one is good enough."),
        (date(2027, 4, 9), "The day is told as soon as one is good enough."),
    ],
)
def test_what_is_not_ready_says_from_when_it_is_and_from_when_its_day_is_told(ready, told):
    assert plain(told_from(ready, TODAY, 4)) == told


def test_they_are_headed_by_the_day_from_which_they_are_ready():
    assert plain(ready_from(date(2027, 4, 26))) == "Ready from Mon 26 April"


def test_the_limit_is_one_of_usual_nights_and_names_the_tenderest():
    assert plain(hurt_under(9.0, "coleus")) == "usual nights of 9 °C or less: too cold for coleus"
    assert plain(hurt_under(9.0, "other")) == "usual nights of 9 °C or less: too cold for these"
