"""Two parcels become one only where the plants and what was told allow it."""

from dataclasses import replace
from datetime import date, timedelta

import pytest

from exchange.domain.growing.batch import Material
from exchange.domain.posting.bundling import Apart, why_apart
from tests.builders.posting import MONDAY, a_line, a_parcel

FIRST = a_parcel(1, lines=(a_line(1, variety_id=1),))
SECOND = a_parcel(2, lines=(a_line(2, variety_id=2),))


def with_line(parcel, **line):
    return replace(parcel, lines=(replace(parcel.lines[0], **line),))


def test_between_the_same_ends_they_may_share_a_box():
    assert why_apart(FIRST, SECOND) is None
    assert why_apart(replace(FIRST, announced_day=MONDAY), SECOND) is None
    together = replace(FIRST, announced_day=MONDAY), replace(SECOND, announced_day=MONDAY)
    assert why_apart(*together) is None


@pytest.mark.parametrize(
    ("other", "why"),
    [
        (replace(SECOND, receiver_place_id=9), Apart.ENDS),
        (replace(SECOND, receiver_household_id=9), Apart.ENDS),
        (replace(SECOND, sender_place_id=9), Apart.ENDS),
        (replace(SECOND, poster_household_id=9), Apart.ENDS),
        (with_line(SECOND, material=Material.UNROOTED), Apart.DAMP),
        (with_line(SECOND, ready_from=date(2027, 6, 2)), Apart.WINDOWS),
        (replace(SECOND, announced_day=MONDAY), Apart.TOLD),
    ],
)
def test_what_keeps_them_apart(other, why):
    assert why_apart(FIRST, other) is why


def test_the_last_day_of_one_may_be_the_first_of_the_other():
    last = FIRST.lines[0].send_by
    assert why_apart(FIRST, with_line(SECOND, ready_from=last, send_by=last)) is None
    over = last + timedelta(days=1)
    assert why_apart(FIRST, with_line(SECOND, ready_from=over, send_by=over)) is Apart.WINDOWS


def test_two_of_what_must_not_be_lost_never_share_a_box():
    kept = {"must_not_be_lost": True, "variety_id": 7}
    assert why_apart(with_line(FIRST, **kept), with_line(SECOND, **kept)) is Apart.TWICE
    assert why_apart(with_line(FIRST, **kept), SECOND) is None


def test_another_day_that_was_told_keeps_it_apart():
    other = replace(SECOND, announced_day=MONDAY + timedelta(days=1))
    assert why_apart(replace(FIRST, announced_day=MONDAY), other) is Apart.TOLD
