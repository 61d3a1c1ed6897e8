"""What the Code asks of a new epithet: each rule by a name that breaks it and one that does not."""

import pytest

from exchange.domain.growing.code_advice import LONGEST_EPITHET, CodeRule, advice_on
from exchange.domain.growing.variety import Species


def rules(name, species=Species.DAHLIA):
    return {one.rule for one in advice_on(name, species)}


@pytest.mark.parametrize(
    "name", ["Tin Kettle", "Glorie van Lowmoor", "Bishop’s Walk", "Hallo, You!", "No. 5", "Café"]
)
def test_an_ordinary_name_is_left_alone(name):
    assert rules(name) == set()


@pytest.mark.parametrize(
    ("name", "rule"),
    [
        ("Tin Kettle™", CodeRule.OWNED),
        ("cv. Kettle", CodeRule.CULTIVAR_SIGN),
        ("7", CodeRule.BARE),
        ("K", CodeRule.BARE),
        ("1492", CodeRule.BARE),
        ("Rosea Plena", CodeRule.LATIN),
        ("Red Dahlia", CodeRule.GENUS),
        ("Dahlias Delight", CodeRule.GENUS),
        ("Kettle Improved", CodeRule.BARRED),
        ("Kettle Hybrids", CodeRule.BARRED),
        ("Finest Kettle", CodeRule.BOAST),
        ("Kettle & Pan", CodeRule.SIGNS),
        ("Kettle (red)", CodeRule.SIGNS),
        ("Oh!!!", CodeRule.SIGNS),
    ],
)
def test_a_name_that_breaks_a_rule_is_told_which(name, rule):
    assert rules(name) == {rule}


def test_thirty_letters_do_and_thirty_one_do_not():
    assert rules("K" + "a" * (LONGEST_EPITHET - 1)) == set()
    assert rules("K" + "a" * LONGEST_EPITHET) == {CodeRule.TOO_LONG}


def test_spaces_are_not_counted():
    assert rules("Kett le " * 4) == set()


def test_latin_among_other_words_does():
    assert rules("Alba Kettle") == set()


def test_the_genus_is_that_of_the_kind():
    assert rules("Dahlia Blue", Species.SALVIA) == set()
    assert rules("Begonia Blue", Species.TUBEROUS_BEGONIA) == {CodeRule.GENUS}
