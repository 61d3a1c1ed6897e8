"""Parcels without a day, said in words."""

from datetime import date

import pytest

from exchange.words.posting.no_day import hurt_under, lead, not_ready, waits_for

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
        "Waits for nights over 7 °C at both ends: about the last week of May."
    )
    assert plain(waits_for(12.0, None)).endswith("usual nights are never so warm.")


def test_what_is_not_ready_says_from_when_and_that_there_is_nothing_to_do():
    assert plain(not_ready(date(2027, 5, 10), TODAY)) == (
        "Ready from Mon 10 May; its day is chosen about the week of Mon 19 April. Nothing to do."
    )
    assert plain(not_ready(date(2027, 4, 12), TODAY)) == (
        "Ready from Mon 12 April; its day is chosen as soon as one is good enough. Nothing to do."
    )


def test_the_limit_names_the_tenderest():
    assert plain(hurt_under(9.0, "coleus")) == "9 °C or less: too cold for coleus"
    assert plain(hurt_under(9.0, "other")) == "9 °C or less: it waits"
