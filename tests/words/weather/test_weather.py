from datetime import date

import pytest

from exchange.domain.weather.note import Doubt, Note
from exchange.forecasts.base import ForecastFaultKind
from exchange.words.weather.weather import doubts, fault_sentence, note_sentence


@pytest.mark.parametrize("kind", ForecastFaultKind)
def test_every_fault_has_a_sentence(kind):
    assert fault_sentence(kind).endswith(".")


def test_what_the_source_said_is_passed_on():
    assert fault_sentence("limit", "try tomorrow").endswith("It said: Try tomorrow.")


@pytest.mark.parametrize("note", Note)
def test_every_note_is_a_sentence(note):
    assert note_sentence(note)[0].isupper()
    assert note_sentence(note).endswith(".")


SATURDAY, SUNDAY = date(2026, 4, 18), date(2026, 4, 19)


def test_each_kind_of_doubt_is_said_once_with_its_nights_and_where():
    found = [
        ("your garden", {Doubt.INCOMPLETE: (SATURDAY,)}),
        ("Morag, Moray", {Doubt.INCOMPLETE: (SATURDAY, SUNDAY), Doubt.TOO_COLD: (SUNDAY,)}),
    ]

    said = [one.replace("\u00a0", " ") for one in doubts(found)]

    nights = "the nights of Sat 18 April (your garden) and Sat 18 and Sun 19 April (Morag, Moray)"
    assert said[0].startswith(f"Hours are missing from the forecast of {nights}: the colder of")
    assert said[1].startswith("The forecast of the night of Sun 19 April (Morag, Moray) is colder")
    assert len(said) == 2


@pytest.mark.parametrize("doubt", Doubt)
def test_every_doubt_has_a_sentence_and_none_is_silence(doubt):
    (said,) = doubts([("", {doubt: (SUNDAY,)})])

    assert "the night of Sun" in said
    assert said.endswith(".")
    assert doubts([("", {})]) == ()
