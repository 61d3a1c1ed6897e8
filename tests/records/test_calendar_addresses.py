"""A calendar is found by its secret address, and says who fetched it last."""

from secrets import token_hex

import pytest

from exchange.records import CALENDARS
from exchange.records.calendar_addresses import LONGEST_BY, note_fetch, with_token
from exchange.records.links import hash_of
from tests.app_fixtures import NOW


@pytest.fixture
def calendar(tx, circle):
    """Give a function that keeps a calendar, and gives its secret and number."""

    def keep(who="Effie", kind="member"):
        token = token_hex(8)
        return token, CALENDARS.add(
            tx, circle.circle_id, member_id=circle[who].id, kind=kind, sha256=hash_of(token),
            made_at=NOW, changed_at=NOW,
        )  # fmt: skip

    return keep


def test_a_calendar_is_found_by_its_secret_alone(tx, calendar):
    token, number = calendar()
    calendar("Winnie")

    assert with_token(tx, token).id == number
    assert with_token(tx, "unknown") is None


def test_the_last_fetch_is_noted_with_no_more_than_the_beginning_of_the_programs_name(tx, calendar):
    token, number = calendar()
    other, _ = calendar("Winnie")

    note_fetch(tx, number, "x" * 200, NOW)

    found = with_token(tx, token)
    assert (found.last_fetched_at, found.last_fetched_by) == (NOW, "x" * 80)
    assert LONGEST_BY == 80
    assert with_token(tx, other).last_fetched_at is None
