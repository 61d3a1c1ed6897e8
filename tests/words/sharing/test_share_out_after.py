import pytest

from exchange.domain.sharing.states import ANSWERED_NO, AllocationState
from exchange.words.kernel.letters import LetterReader
from exchange.words.sharing.share_out_after import (
    answer_words,
    change_words,
    given_later,
    not_after_all,
    not_sent,
)

READER = LetterReader("Effie", "The Lowmoor Circle")


def test_each_answer_reads_differently():
    assert len({answer_words(state) for state in AllocationState}) == len(AllocationState)


def test_each_way_plants_can_change_hands_reads_differently():
    kinds = [*ANSWERED_NO, "reserve", "left_over"]

    assert len({change_words(kind) for kind in kinds}) == len(kinds)


@pytest.mark.parametrize(
    ("given", "to_send", "subject"),
    [
        (("2 of Bramble",), (), "Plants for you after all"),
        ((), ("1 of Fen Dawn",), "Can you send these?"),
        (("2 of Bramble",), ("1 of Fen Dawn",), "Plants for you after all"),
    ],
)
def test_a_letter_tells_what_comes_and_what_is_asked_and_nothing_else(given, to_send, subject):
    letter = given_later(READER, given, to_send, "http://circle.example/x")

    assert letter.subject == subject
    assert ("you are next" in letter.text, "asked to send" in letter.text) == (
        bool(given),
        bool(to_send),
    )
    assert all(line in letter.text for line in (*given, *to_send, "http://circle.example/x"))


@pytest.mark.parametrize(("plants", "said"), [(1, "1 plant given"), (3, "3 plants given")])
def test_what_is_not_sent_is_counted_and_says_whether_others_are_looked_for(plants, said):
    looked_at, nothing = (
        not_sent(plants, looked_at=one).replace("\u00a0", " ") for one in (True, False)
    )

    assert looked_at.startswith(said)
    assert nothing.startswith(said)
    assert "is being looked at" in looked_at
    assert "nothing to send instead" in nothing


def test_the_letter_about_it_says_what_and_that_the_claim_stays_open():
    letter = not_after_all(READER, 2, "2 of Bramble", "http://circle.example/x")

    assert "- 2 of Bramble" in letter.text
    assert "for 2\u00a0plants stays open" in letter.text
