"""Names: the same name is found, a near one is asked about, none is ever merged."""

import time

import pytest

from exchange.domain.growing.names import fold, near, tidied


@pytest.mark.parametrize(
    ("typed", "known"),
    [
        ("CHAPEL lantern", "Chapel Lantern"),
        ("‘Chapel Lantern’", "Chapel Lantern"),
        ("Tabbener’s Plum", "Tabbener's Plum"),
        ("Chapel-Lantern", "Chapel Lantern"),
        ("  Chapel   Lantern ", "Chapel Lantern"),
        ("Cafe\u0301", "Café"),
    ],
)
def test_two_ways_of_writing_one_name_are_one_name(typed, known):
    assert fold(typed) == fold(known)


def test_an_accent_makes_another_name():
    assert fold("Café") != fold("Cafe")


def test_a_name_that_differs_by_an_accent_is_asked_about():
    assert near("Cafe", ["Café", "Tin Kettle"]) == ("Café",)


def test_a_slip_of_one_letter_is_asked_about():
    assert near("Chapel Lantren", ["Chapel Lantern", "Tin Kettle"]) == ("Chapel Lantern",)


def test_part_of_a_name_is_asked_about_and_the_name_itself_is_not():
    assert near("Ember", ["Ember", "Wrenfold Ember"]) == ("Wrenfold Ember",)


def test_a_part_of_three_letters_is_no_hint():
    assert near("Old", ["Old Corrie Blush"]) == ()


def test_the_most_alike_stands_first_and_no_more_than_wanted():
    known = ["Lanterns", "Lantern", "Lanternes", "Lantarn", "Lentern", "Lanterne"]

    found = near("Lanter", known, most=3)

    assert found[0] == "Lantern"
    assert len(found) == 3


def test_a_name_is_kept_without_quotes_and_without_what_cannot_be_seen():
    assert tidied(" ‘Chapel \u202e\x00 Lantern’ ") == "Chapel Lantern"
    assert tidied("Tabbener's Plum") == "Tabbener's Plum"
    assert tidied("'\"'") == ""


def test_two_hundred_lines_are_compared_with_two_hundred_names_in_no_time():
    known = [f"Seedling Number {number} of the Long Border" for number in range(200)]
    begun = time.process_time()

    for number in range(20):
        near(f"Another Name Altogether {number}", known)

    assert time.process_time() - begun < 1.5
