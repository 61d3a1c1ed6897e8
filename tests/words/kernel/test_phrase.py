import pytest

from exchange.words.kernel.phrase import NBSP, as_sentence, counted, listed


@pytest.mark.parametrize(("number", "text"), [(0, "0 plants"), (1, "1 plant"), (2, "2 plants")])
def test_one_alone_has_the_singular(number, text):
    assert counted(number, "plant", "plants").replace(NBSP, " ") == text


@pytest.mark.parametrize(
    ("parts", "text"),
    [((), ""), (("a",), "a"), (("a", "b"), "a and b"), (("a", "b", "c"), "a, b and c")],
)
def test_a_list_reads_as_it_is_spoken(parts, text):
    assert listed(parts) == text


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        ("too cold", "Too cold."),
        (" Too cold. ", "Too cold."),
        ("is it?", "Is it?"),
        ("wait!", "Wait!"),
        ("the RHS’s way", "The RHS’s way."),
        ("  ", ""),
    ],
)
def test_a_sentence_has_its_capital_and_one_stop(text, sentence):
    assert as_sentence(text) == sentence
