"""What stands round a letter in the organiser's own words."""

from exchange.words.kernel import own_words as words
from exchange.words.kernel.letters import LetterReader

READER = LetterReader("Effie", "Lowmoor")


def test_the_greeting_goes_before_and_is_left_out_of_the_copy():
    letter = words.body(READER, "One.\n\nTwo.", words.signature("Winnie", "Lowmoor"))

    assert letter == "Dear Effie,\n\nOne.\n\nTwo.\n\nWinnie, for Lowmoor\n"
    assert words.without_greeting(letter) == "One.\n\nTwo.\n\nWinnie, for Lowmoor"


def test_how_it_goes_is_said_only_as_far_as_it_goes():
    assert words.written(3, 0) == "3 by mail"
    assert words.written(0, 2) == "2 to hand over"
    assert words.written(11, 3) == "11 by mail, 3 to hand over"
