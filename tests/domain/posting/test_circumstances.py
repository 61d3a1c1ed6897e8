from datetime import date

import pytest

from exchange.domain.posting.circumstances import Circumstances


@pytest.mark.parametrize(
    ("day", "pots"),
    [
        (date(2027, 4, 30), 0),
        (date(2027, 5, 1), 12),
        (date(2027, 5, 9), 12),
        (date(2027, 5, 10), 0),
        (date(2027, 7, 1), 5),
    ],
)
def test_pots_stand_from_their_day_until_the_next_day_given(day, pots):
    taken = {date(2027, 5, 10): 0, date(2027, 6, 1): 5, date(2027, 5, 1): 12}
    around = Circumstances(households={}, places={}, room_taken={7: taken})

    assert around.taken(7, day) == pots


def test_a_place_nothing_is_known_of_has_all_its_room():
    assert Circumstances(households={}, places={}).taken(7, date(2027, 5, 1)) == 0
