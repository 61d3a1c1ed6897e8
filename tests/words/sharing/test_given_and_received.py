"""Given and received are told by sign and fact."""

import pytest

from exchange.domain.sharing.case import SharingTerms
from exchange.domain.sharing.measure import lead, shift
from exchange.words.sharing.given_and_received import lead_sentence


@pytest.mark.parametrize(
    ("given", "received", "told"),
    [
        (0, 0, "You are new, so you come a little earlier."),
        (5, 2, "You have given more than you received, so you come a little earlier."),
        (3, 3, "What you gave and received is nearly level, so you come a little earlier."),
        (1, 2, "What you gave and received is nearly level, so you come a little earlier."),
        (9, 11, ""),
        (2, 40, "You have received more than you gave, so you come a little later."),
    ],
)
def test_a_household_is_told_whether_it_comes_earlier_or_later_and_why(given, received, told):
    assert lead_sentence(lead(SharingTerms(), given, received)) == told


def test_where_given_and_received_shift_nothing_nothing_is_said():
    for given in range(9):
        for received in range(9):
            assert lead(SharingTerms(shift=0), given, received) is None


def test_what_is_said_always_has_the_sign_of_the_shift():
    for given in range(30):
        for received in range(30):
            steps = shift(SharingTerms(), given, received)
            sentence = lead_sentence(lead(SharingTerms(), given, received))
            assert ("earlier" in sentence, "later" in sentence) == (steps > 0, steps < 0)
