"""Reading spares one per line, as gardeners type and paste them."""

import time

import pytest
from hypothesis import given
from hypothesis import strategies as st

from exchange.domain.growing.batch import Material, Raised
from exchange.domain.growing.variety import Species
from exchange.domain.sharing.listing import (
    MOST_LINES,
    MOST_PLANTS_A_LINE,
    ListedLine,
    TooManyLinesError,
    UnreadLine,
    read_line,
    read_lines,
)


def read(line):
    return read_line(1, line)


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
    assert found.sure


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


@pytest.mark.parametrize("line", ["10 cuttings of Harl", "3 Tin Kettle", "Seedling 12"])
def test_a_guess_is_never_sure(line):
    assert not read(line).sure


def test_a_line_without_number_and_material_is_bare():
    assert read("Hello all,").bare
    assert not read("3 Tin Kettle").bare
    assert not read("rooted Tin Kettle").bare


@pytest.mark.parametrize("count", ["0", "-1", "1000000000", "1001", "9" * 40])
def test_a_number_that_cannot_be_is_said_to_be_wrong(count):
    assert read(f"{count} rooted Tin Kettle") == UnreadLine(
        1, f"{count} rooted Tin Kettle", "count"
    )


def test_the_largest_number_is_taken():
    assert read(f"{MOST_PLANTS_A_LINE} rooted Tin Kettle").count == MOST_PLANTS_A_LINE


@pytest.mark.parametrize("line", ["'''", "3", "3 x rooted", "12 !!", "7/8"])
def test_a_line_without_a_name_is_said_to_have_none(line):
    assert read(line).fault == "no name"


def test_sixty_letters_are_taken_and_sixty_one_are_not():
    assert read("3 rooted " + "a" * 60).name == "a" * 60
    assert read("3 rooted " + "a" * 61).fault == "too long"


def test_accents_and_quotes_inside_a_name_stay():
    assert read("2 rooted Café d'Été").name == "Café d'Été"


def test_a_mail_is_read_line_by_line_with_its_own_numbers():
    found = read_lines("Hello all,\r\n\r\n> 3 rooted Tin Kettle\n\t* 2 clumps Harl\n")

    assert [line.number for line in found] == [1, 3, 4]
    assert [line.count for line in found] == [1, 3, 2]


def test_more_lines_than_a_box_holds_are_refused_not_dropped():
    with pytest.raises(TooManyLinesError) as raised:
        read_lines("1 rooted Tin Kettle\n" * (MOST_LINES + 1))

    assert raised.value.lines == MOST_LINES + 1


@given(st.text(min_size=1, max_size=400).filter(str.strip))
def test_whatever_is_typed_is_read_or_refused_with_a_fault(line):
    found = read(line.strip())

    if isinstance(found, ListedLine):
        assert 1 <= found.count <= MOST_PLANTS_A_LINE
        assert 0 < len(found.name) <= 60
    else:
        assert found.fault in {"no name", "count", "too long"}


@pytest.mark.parametrize("filling", [" ", ", ", "x ", "- ", "(cool) ", "'"])
def test_no_line_takes_long_to_read(filling):
    begun = time.process_time()

    read("a" + filling * 20_000 + "b 3")
    read("a" + (filling * 300)[:280] + "b 3")

    assert time.process_time() - begun < 0.5
