"""Texts as members write them: nothing in them is read wrongly without being asked about."""

import pytest

from exchange.domain.sharing.box.entry import BoxDoubt, BoxEntry, What
from tests.domain.sharing.box.scoring import TEXTS, Expected, counts, score, scored

PATHS = sorted(TEXTS.glob("*.txt"))


@pytest.mark.parametrize("path", PATHS, ids=[path.stem for path in PATHS])
def test_nothing_is_read_wrongly_without_a_question(path):
    wrong = [(number, said) for number, said in scored(path) if said.startswith("wrong")]

    assert wrong == []


def test_most_is_read_right_and_little_is_asked():
    found = counts()

    assert len(PATHS) == 25
    assert found["right"] >= 85
    assert found["asked"] <= 85
    assert found.get("refused", 0) <= 2


EXPECTED = Expected("spare", "3", "rooted", "-", "Tin Kettle")
ENTRY = BoxEntry(1, "2 clumps Harl", What.SPARE, count=2, name="Harl")


@pytest.mark.parametrize(
    ("doubts", "said"),
    [
        (set(), "wrong: count, material, name"),
        ({BoxDoubt.NAME}, "wrong: count, material"),
        ({BoxDoubt.NAME, BoxDoubt.COUNT, BoxDoubt.MATERIAL}, "asked"),
    ],
)
def test_the_scoring_takes_a_question_about_one_field_for_no_other(doubts, said):
    entry = BoxEntry(
        **{**{name: getattr(ENTRY, name) for name in ENTRY.__slots__}, "doubts": doubts}
    )

    assert score(entry, EXPECTED) == said
