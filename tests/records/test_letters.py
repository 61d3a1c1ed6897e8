"""Letters that are due: those still waiting, not tried too often, and not to be held back."""

from datetime import timedelta

import pytest
from sqlalchemy import delete

from exchange.records import LETTERS, letters
from exchange.records.rows.running import LetterState
from exchange.records.tables import LetterTable
from tests.app_fixtures import NOW

MINUTE = timedelta(minutes=1)


@pytest.fixture
def letter(tx, circle):
    """Give a function that keeps a letter; letters are due over all circles, so none is left."""
    tx._session.execute(delete(LetterTable))

    def write(key="one", **said):
        return LETTERS.add(
            tx, circle.circle_id, member_id=circle["Effie"].id, key=key, kind="sign_in",
            subject="Your link", body="It works once.", written_at=NOW, **said,
        )  # fmt: skip

    return write


def due(tx, most=10):
    return [one.key for one in letters.due(tx, NOW, most)]


@pytest.mark.parametrize(
    ("said", "is_due"),
    [
        ({}, True),
        ({"tries": 7}, True),
        ({"tries": 8}, False),
        ({"not_before": NOW}, True),
        ({"not_before": NOW + MINUTE}, False),
        ({"state": LetterState.SENT}, False),
        ({"state": LetterState.BY_HAND}, False),
    ],
)
def test_a_letter_is_due_while_it_waits_up_to_its_eighth_try(tx, letter, said, is_due):
    letter(**said)

    assert due(tx) == (["one"] if is_due else [])


def test_the_letters_written_first_are_due_first_and_no_more_than_asked_for(tx, letter):
    for key in ("one", "two", "three"):
        letter(key)

    assert due(tx, most=2) == ["one", "two"]


def test_a_letter_is_found_by_its_key(tx, letter):
    letter("one")
    wanted = letter("two")

    assert letters.with_key(tx, "two").id == wanted
    assert letters.with_key(tx, "three") is None
