"""Where plants stand, said once for nights in a row."""

from datetime import date, timedelta

import pytest

from exchange.words.posting.standing import StandingNights, standing

TUESDAY = date(2027, 4, 13)


def nights(where, first, count):
    return StandingNights(where, tuple(TUESDAY + timedelta(days=first + n) for n in range(count)))


@pytest.mark.parametrize(
    ("count", "text"),
    [(1, "that night"), (2, "both nights"), (5, "all five nights"), (14, "all 14 nights")],
)
def test_one_place_for_all_nights_counts_them(count, text):
    assert standing([nights("indoors", 0, count)]) == (f"Indoors, {text}",)


def test_two_places_name_their_nights():
    said = standing([nights("indoors", 0, 3), nights("in the cold greenhouse", 3, 1)])

    assert [one.replace("\u00a0", " ") for one in said] == [
        "Indoors, Tue 13 to Thu 15 April",
        "In the cold greenhouse, Fri 16 April",
    ]
