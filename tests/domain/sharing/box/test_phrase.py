"""A covered line by itself: names are covered first, then numbers and plant words are found."""

import pytest

from exchange.domain.growing.batch import Material, Raised
from exchange.domain.growing.variety import Species
from exchange.domain.sharing.box.names import cover, known_names
from exchange.domain.sharing.box.numbers import numbers_in
from exchange.domain.sharing.box.phrase import read_phrase
from exchange.domain.sharing.box.plant_words import material_of, raised_of, species_of
from exchange.domain.sharing.box.tokens import TokenKind, tokens_of

NAMES = known_names(["Two Rivers", "Two", "Wherry (Dark Form)", "Kate's Number 7"])


@pytest.mark.parametrize(
    ("line", "found"),
    [
        ("3 two rivers", ("two rivers",)),
        ("Wherry (Dark Form) (2)", ("Wherry (Dark Form)",)),
        ("‘Kate’s Number 7’, 4", ("Kate’s Number 7",)),
        ("Two-Rivers and two", ("Two-Rivers", "two")),
        ("Two Riverside", ("Two",)),
    ],
)
def test_the_longest_known_name_is_covered(line, found):
    assert cover(line, NAMES).names == found


def test_what_stands_in_quotation_marks_is_covered_after_the_known_names():
    covered = cover("2 Two Rivers, 3 'Blue 52'", NAMES)

    assert (covered.names, covered.known) == (("Two Rivers", "Blue 52"), 1)


@pytest.mark.parametrize(
    ("text", "value", "sure"),
    [
        ("x3", 3, True),
        ("half a dozen", 6, True),
        ("2 dozen", 24, True),
        ("a dozen or so", None, False),
        ("ca. 10", 10, False),
        ("5-ish", 5, False),
        ("2-3", 2, False),
        ("a few", None, False),
        ("2.5", 2, False),
        ("a good half dozen", None, False),
    ],
)
def test_a_number_says_how_sure_it_is(text, value, sure):
    (number,) = numbers_in(text)

    assert (number.value, number.sure) == (value, sure)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("unrooted cuttings", (Material.UNROOTED, True)),
        ("not yet rooted", (None, True)),
        ("cuttings", (None, False)),
        ("kettles", None),
    ],
)
def test_words_for_what_is_sent_are_read_whole(text, said):
    assert material_of(text) == said


def test_a_word_for_the_raising_counts_alone_only_where_it_stands_alone():
    assert raised_of("cool", alone=True) == (Raised.COOL,)
    assert raised_of("cool", alone=False) is None
    assert raised_of("windowsill", alone=True) == (None,)


def test_kinds_of_plant_are_read_in_one_and_many():
    assert species_of("Fuchsias") is Species.FUCHSIA
    assert species_of("rex begonias") is Species.FOLIAGE_BEGONIA


def test_a_size_is_no_number_of_plants():
    parts = [one.part for one in tokens_of("3 rooted in 9 cm pots")]

    assert parts == [TokenKind.NUMBER, TokenKind.MATERIAL, TokenKind.SIZE]


def test_two_numbers_give_no_count():
    phrase = read_phrase(cover("3 Two Rivers, 2", NAMES))

    assert (phrase.count, phrase.numbers) == (None, 2)
