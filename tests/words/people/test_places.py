import pytest

from exchange.domain.circle.place import Lie
from exchange.domain.growing.room import POTS_A_TRAY
from exchange.words.kernel.phrase import NBSP
from exchange.words.people.places import height_words, lie_words, room_words


@pytest.mark.parametrize(
    ("pots", "text"),
    [
        (None, "no limit given"),
        (0, "0 seed trays, that is 0 pots"),
        (POTS_A_TRAY, f"1 seed tray, that is {POTS_A_TRAY} pots"),
        (POTS_A_TRAY // 2, f"0.5 seed trays, that is {POTS_A_TRAY // 2} pots"),
        (2 * POTS_A_TRAY, f"2 seed trays, that is {2 * POTS_A_TRAY} pots"),
    ],
)
def test_room_is_told_in_trays_and_in_pots(pots, text):
    assert room_words(pots).replace(NBSP, " ") == text


def test_a_height_says_who_gave_it():
    assert height_words(84.4, "said") == f"84{NBSP}m"
    assert height_words(84.4, "forecast") == f"84{NBSP}m, by the forecast"
    assert height_words(0.0, "said") == f"0{NBSP}m"
    assert "not known" in height_words(None, "said")


def test_every_lie_is_told_apart():
    assert len({lie_words(lie) for lie in Lie}) == len(Lie)
