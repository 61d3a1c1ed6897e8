from dataclasses import replace

import pytest

from exchange.forecasts.base import AnswerError, Fetched, ForecastFaultKind
from exchange.forecasts.batching import batches, fetch_in_turn, read_each
from tests.builders.weather import NOW, a_place

PLACES = [replace(a_place(), id=number, height_m=10.0) for number in range(1, 6)]


def asked(parts, answer):
    """Give the ids of each request, and the faults as (kind, ids)."""
    requests = []

    def fetch(part):
        ids = [place.id for place in part]
        requests.append(ids)
        if (kind := answer(ids)) is not None:
            raise AnswerError(kind)
        return Fetched()

    fetched = fetch_in_turn(parts, fetch, "a service", NOW)
    return requests, [(fault.kind, fault.place_ids) for fault in fetched.faults]


def test_places_with_and_without_a_height_are_asked_for_apart():
    low, unknown = PLACES[:3], [replace(place, height_m=None) for place in PLACES[3:]]

    parts = batches([unknown[0], *low, unknown[1]], most=2)

    assert [[place.id for place in part] for part in parts] == [[1, 2], [3], [4, 5]]


@pytest.mark.parametrize(
    "kind", [ForecastFaultKind.LIMIT, ForecastFaultKind.UNREACHABLE, ForecastFaultKind.TOO_SLOW]
)
def test_a_busy_service_is_not_asked_further_and_all_places_left_stand_in_one_fault(kind):
    requests, faults = asked(
        [PLACES[:1], PLACES[1:3], PLACES[3:]], lambda ids: kind if 2 in ids else None
    )

    assert requests == [[1], [2, 3]]
    assert faults == [(kind, (2, 3, 4, 5))]


def test_another_fault_costs_its_own_places_alone():
    kind = ForecastFaultKind.INCOMPLETE

    requests, faults = asked([PLACES[:2], PLACES[2:]], lambda ids: kind if 2 in ids else None)

    assert requests == [[1, 2], [3, 4, 5]]
    assert faults == [(kind, (1, 2))]


def test_a_place_nothing_is_offered_for_is_found_by_halves_and_costs_no_other():
    kind = ForecastFaultKind.NOT_OFFERED

    requests, faults = asked([PLACES], lambda ids: kind if 3 in ids else None)

    assert requests == [[1, 2, 3, 4, 5], [1, 2], [3, 4, 5], [3], [4, 5]]
    assert faults == [(kind, (3,))]


def test_an_answer_that_cannot_be_read_does_not_take_the_others_with_it():
    def read(answer, place):
        if answer["bad"]:
            raise AnswerError(ForecastFaultKind.INCOMPLETE)
        return place.id

    answers = [{"bad": place.id == 2} for place in PLACES]

    found = read_each(PLACES, answers, read, "a service", NOW)

    assert found.forecasts == (1, 3, 4, 5)
    assert [fault.place_ids for fault in found.faults] == [(2,)]
