from exchange.actions.posting.route import NightsFrom
from exchange.words.posting.route import nights


def test_each_source_of_nights_has_a_sentence_of_its_own():
    assert len({nights(source.value) for source in NightsFrom}) == len(NightsFrom)
