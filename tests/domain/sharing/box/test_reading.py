"""Lines read by themselves, as gardeners type and paste them."""

import time

import pytest
from hypothesis import given
from hypothesis import strategies as st

from exchange.domain.growing.batch import Material, Raised
from exchange.domain.growing.variety import Species
from exchange.domain.sharing.box.entry import (
    MOST_LINES,
    MOST_PLANTS_A_LINE,
    BoxDoubt,
    TooManyLinesError,
    What,
    Why,
)
from exchange.domain.sharing.box.reading import read_line, read_lines
from tests.domain.sharing.box.scoring import KNOWN


def read(line):
    return read_line(1, line, KNOWN)


@pytest.mark.parametrize(
    ("line", "count", "material", "name"),
    [
        ("3 rooted Chapel Lantern", 3, Material.ROOTED, "Chapel Lantern"),
        ("3x rooted cuttings of Tin Kettle", 3, Material.ROOTED, "Tin Kettle"),
        ("2 × pot tubers November Quarrel", 2, Material.POT_TUBER, "November Quarrel"),
        ("4 unrooted cuttings of 'Brass Thimble'", 4, Material.UNROOTED, "Brass Thimble"),
        ("a clump of Aunt Verity", 1, Material.CLUMP, "Aunt Verity"),
        ("Tin Kettle, young plants, 5", 5, Material.YOUNG_PLANT, "Tin Kettle"),
        ("- 2 divisions Tin Kettle", 2, Material.DIVISION, "Tin Kettle"),
        ("1. 4 rooted Tin Kettle", 4, Material.ROOTED, "Tin Kettle"),
        ("three stools Martinmas Fire", 3, Material.STOOL, "Martinmas Fire"),
    ],
)
def test_count_material_and_name_are_read(line, count, material, name):
    found = read(line)

    assert (found.count, found.material, found.name) == (count, material, name)
    assert not found.doubts


def test_the_kind_of_plant_and_the_raising_are_read():
    found = read("10 unrooted Pelargonium Brass Thimble, raised in heat")

    assert (found.species, found.raised) == (Species.PELARGONIUM, Raised.IN_HEAT)
    assert found.name == "Brass Thimble"


@pytest.mark.parametrize("line", ["2 rooted Cool Kettle", "2 rooted Hardened Heart"])
def test_a_word_of_a_name_is_not_taken_for_the_raising(line):
    found = read(line)

    assert found.raised is None
    assert found.name == line.removeprefix("2 rooted ")


@pytest.mark.parametrize("line", ["2 rooted Tin Kettle, cool", "2 rooted Tin Kettle (cool)"])
def test_a_word_set_off_is_the_raising(line):
    assert read(line).raised is Raised.COOL


@pytest.mark.parametrize(
    ("line", "asked"),
    [
        ("10 cuttings of Harl", {"material"}),
        ("3 Tin Kettle", {"material"}),
        ("rooted Tin Kettle", {"count"}),
        ("Seedling 12", {"count", "material"}),
        ("ca. 10 rooted Harl", {"count"}),
        ("2 or 3 rooted Harl", {"count"}),
        ("3 rooted Harl, windowsill", {"raised"}),
        ("about 3 cuttings Harl, windowsill", {"count", "material", "raised"}),
        ("3 rooted Larksong 12", {"count"}),
        ("3 rooted Harl, Maud", {"what", "count"}),
        ("3 rooted Harl?", {"what", "count"}),
        ("3 rooted Harl if nobody else has them", {"what", "count"}),
    ],
)
def test_every_field_that_is_unsure_is_asked_about_and_no_other(line, asked):
    assert read(line).doubts == asked


@pytest.mark.parametrize(
    ("line", "count"),
    [
        ("x3 rooted Harl", 3),
        ("Harl (2) rooted", 2),
        ("half a dozen rooted Harl", 6),
        ("two dozen rooted Harl", 24),
        ("rooted Harl, seven", 7),
        ("rooted, 4, Harl", 4),
        ("3 rooted Harl in 9 cm pots", 3),
        ("4 cuttings of Harl, unrooted", 4),
    ],
)
def test_a_number_is_found_wherever_it_stands(line, count):
    found = read(line)

    assert (found.count, found.doubts) == (count, frozenset())


@pytest.mark.parametrize(
    ("line", "why"),
    [
        ("Hello all,", Why.NOTHING_SAID),
        ("No Harl this year", Why.NONE_LEFT),
        ("Harl did not keep", Why.NONE_LEFT),
        ("2 rooted Harl are promised to Maud", Why.PROMISED),
    ],
)
def test_what_is_plainly_no_spare_is_left_out_with_the_reason(line, why):
    found = read(line)

    assert (found.what, found.why) == (What.OUT, why)


@pytest.mark.parametrize(
    ("line", "count"), [("Any spare Harl?", 1), ("I would like two Harl please", 2)]
)
def test_a_line_that_asks_is_a_wish(line, count):
    found = read(line)

    assert (found.what, found.name, found.count) == (What.WISH, "Harl", count)
    assert not found.doubts


def test_a_known_name_covers_the_words_and_numbers_in_it():
    found = read_line(1, "2 rooted Stool Pigeon", ["Stool Pigeon"])
    unknown = read_line(1, "2 Stool Pigeon")

    assert (found.name, found.material, found.doubts) == ("Stool Pigeon", Material.ROOTED, set())
    assert BoxDoubt.MATERIAL in unknown.doubts


@pytest.mark.parametrize("count", ["0", "-1", "1000000000", "1001", "9" * 40])
def test_a_number_that_cannot_be_is_said_to_be_wrong(count):
    assert read(f"{count} rooted Tin Kettle").fault == "count"


def test_the_largest_number_is_taken():
    assert read(f"{MOST_PLANTS_A_LINE} rooted Tin Kettle").count == MOST_PLANTS_A_LINE


@pytest.mark.parametrize("line", ["3", "3 x rooted", "12 !!", "7/8"])
def test_a_line_without_a_name_is_said_to_have_none(line):
    assert read(line).fault == "no name"


def test_sixty_letters_are_taken_and_sixty_one_are_not():
    assert read("3 rooted " + "a" * 60).name == "a" * 60
    assert read("3 rooted " + "a" * 61).fault == "too long"


def test_accents_and_quotes_inside_a_name_stay():
    assert read("2 rooted Café d'Été").name == "Café d'Été"


def test_lines_keep_their_own_numbers():
    found = read_lines("Hello all,\r\n\r\n  3 rooted Tin Kettle\n\t* 2 clumps Harl\n", KNOWN)

    assert [line.number for line in found] == [1, 3, 4]
    assert [line.count for line in found] == [None, 3, 2]


def test_quoted_lines_beside_own_ones_are_left_out_and_asked_about_alone():
    beside = read_lines("2 rooted Oxbow\n> 3 rooted Tin Kettle", KNOWN)
    alone = read_lines("> 3 rooted Tin Kettle", KNOWN)

    assert [one.what for one in beside] == [What.SPARE, What.OUT]
    assert alone[0].doubts == {BoxDoubt.WHAT}


def test_more_lines_than_a_box_holds_are_refused_not_dropped():
    with pytest.raises(TooManyLinesError) as raised:
        read_lines("1 rooted Tin Kettle\n" * (MOST_LINES + 1))

    assert raised.value.lines == MOST_LINES + 1


@given(st.text(min_size=1, max_size=400).filter(str.strip))
def test_whatever_is_typed_is_read_or_refused_with_a_fault(line):
    found = read(line.strip())

    assert found.fault in {"", "no name", "count", "too long"}
    if found.what is not What.OUT:
        assert 0 < len(found.name) <= 60
        assert BoxDoubt.COUNT in found.doubts or 1 <= found.count <= MOST_PLANTS_A_LINE
        assert found.what is What.WISH or BoxDoubt.MATERIAL in found.doubts or found.material


@pytest.mark.parametrize("filling", [" ", ", ", "x ", "- ", "(cool) ", "'"])
def test_no_line_takes_long_to_read(filling):
    begun = time.process_time()

    read("a" + filling * 20_000 + "b 3")
    read("a" + (filling * 300)[:280] + "b 3")

    assert time.process_time() - begun < 0.5


@pytest.mark.parametrize(
    "after", ["(both promised)", "scrap that", "only 2 after all", "no, 4", "These are for Maud"]
)
def test_a_line_without_a_name_may_speak_of_those_above(after):
    first, second, *_ = read_lines(f"3 rooted Harl\n2 rooted Oxbow\n{after}", KNOWN)

    assert BoxDoubt.WHAT in first.doubts
    assert BoxDoubt.WHAT in second.doubts


def test_an_unknown_name_at_the_head_of_lines_may_say_whose_they_are():
    _maud, first, second = read_lines("Maud\n3 rooted Harl\n\n2 rooted Oxbow", KNOWN)

    assert BoxDoubt.WHAT in first.doubts
    assert not second.doubts


def test_wanted_over_lines_makes_them_wishes():
    _over, first, second = read_lines("Wanted\n2 Harl\nOxbow", KNOWN)

    assert (first.what, first.count, second.what, second.count) == (What.WISH, 2, What.WISH, 1)


def test_a_members_name_before_or_above_lines_says_whose_they_are():
    text = "Maud: 3 rooted Harl\nIvor\n2 rooted Oxbow\n\nMaud - 1 clump Tin Kettle\n4 rooted Snow Goose"

    found = [one for one in read_lines(text, KNOWN, ["Maud", "Ivor"]) if one.what is What.SPARE]

    assert [one.leader for one in found] == ["Maud", "Ivor", "Maud", "Ivor"]
    assert all(not one.doubts for one in found)


@pytest.mark.parametrize(
    "text",
    ["3 rooted Harl\n\nMaud", "3 rooted Harl\nBest wishes\nMaud", "3 rooted Harl\nMaud: 1 Oxbow"],
)
def test_whose_a_line_without_a_name_is_is_asked_where_a_member_is_named(text):
    assert BoxDoubt.WHOSE in read_lines(text, KNOWN, ["Maud"])[0].doubts


@pytest.mark.parametrize(
    ("line", "choice"), [("Any Harl? (second choice)", 2), ("Wanted: Harl, 1st choice", 1)]
)
def test_a_wish_may_say_which_choice_it_is(line, choice):
    found = read(line)

    assert (found.what, found.choice, found.name) == (What.WISH, choice, "Harl")
