from datetime import date

from exchange.domain.growing.shelter import ShelterKind
from exchange.words.home import first_steps as words
from exchange.words.kernel.phrase import NBSP


def test_a_done_step_says_what_there_is():
    kinds = (ShelterKind.INDOORS, ShelterKind.COLD)

    assert words.once_done("people", 11, ()) == f"11{NBSP}members so far."
    assert words.once_done("shelter", 0, kinds) == "Indoors and cold greenhouse or frame."
    assert words.once_done("wish", 0, ()) == "You have asked for something."


def test_it_says_when_the_steps_go():
    assert words.ends(None) == "By themselves, once a share-out is open."
    assert words.ends(date(2027, 5, 6)).endswith(
        f"or after Thu 6{NBSP}May.".replace(" 6", f"{NBSP}6")
    )


def test_the_drawing_is_told():
    assert words.drawn((True, False, False)) == "1 of 3 steps done."
