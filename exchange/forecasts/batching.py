"""Requests for several places, one after the other; what stops them and what splits them."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from datetime import datetime
from typing import Any

from exchange.domain.circle.place import Place
from exchange.domain.weather.forecast import Forecast
from exchange.forecasts.base import AnswerError, Fetched, ForecastFault, ForecastFaultKind

BUSY = frozenset(
    {ForecastFaultKind.LIMIT, ForecastFaultKind.UNREACHABLE, ForecastFaultKind.TOO_SLOW}
)


def batches(places: Sequence[Place], most: int) -> Iterator[list[Place]]:
    """Split into requests; heights are asked for all places of a request or for none."""
    for group in (
        [place for place in places if place.height_m is not None],
        [place for place in places if place.height_m is None],
    ):
        for start in range(0, len(group), most):
            yield group[start : start + most]


def fetch_in_turn(
    parts: Sequence[Sequence[Place]],
    fetch_part: Callable[[Sequence[Place]], Fetched],
    source: str,
    now: datetime,
    stopping: frozenset[ForecastFaultKind] = BUSY,
) -> Fetched:
    """Ask for one part after the other.

    A service that has been asked too often, or does not answer, is not asked further: all places
    left stand in that one fault. A part that is refused because the service has nothing for one of
    its places is asked for again in halves, so that the others get their forecasts.

    Parameters
    ----------
    parts : the places of each request
    fetch_part : makes one request, raising AnswerError
    source : how the service is named
    now : instant of asking
    stopping : faults after which the service is not asked further

    Returns
    -------
    fetched : a forecast, or a share in a fault, for every place
    """
    fetched = Fetched()
    waiting = [list(part) for part in parts]
    while waiting:
        part = waiting.pop(0)
        try:
            fetched = fetched.joined(fetch_part(part))
        except AnswerError as error:
            if error.kind is ForecastFaultKind.NOT_OFFERED and len(part) > 1:
                middle = len(part) // 2
                waiting = [part[:middle], part[middle:], *waiting]
                continue
            left = [part]
            if error.kind in stopping:
                left, waiting = [part, *waiting], []
            ids = tuple(place.id for group in left for place in group)
            fetched = fetched.joined(Fetched(faults=(error.as_fault(source, ids, now),)))
    return fetched


def read_each(
    places: Sequence[Place],
    answers: Sequence[Mapping[str, Any]],
    read: Callable[[Mapping[str, Any], Place], Forecast],
    source: str,
    now: datetime,
) -> Fetched:
    """Read the answer of each place; one that cannot be used does not take the others with it."""
    forecasts: list[Forecast] = []
    faults: list[ForecastFault] = []
    for place, answer in zip(places, answers, strict=True):
        try:
            forecasts.append(read(answer, place))
        except AnswerError as error:
            faults.append(error.as_fault(source, (place.id,), now))
    return Fetched(tuple(forecasts), tuple(faults))
