import pytest

from exchange.domain.weather.note import Note
from exchange.forecasts.base import ForecastFaultKind
from exchange.words.weather.weather import fault_sentence, note_sentence


@pytest.mark.parametrize("kind", ForecastFaultKind)
def test_every_fault_has_a_sentence(kind):
    assert fault_sentence(kind).endswith(".")


def test_what_the_source_said_is_passed_on():
    assert fault_sentence("limit", "try tomorrow").endswith("It said: Try tomorrow.")


@pytest.mark.parametrize("note", Note)
def test_every_note_is_a_sentence(note):
    assert note_sentence(note)[0].isupper()
    assert note_sentence(note).endswith(".")
