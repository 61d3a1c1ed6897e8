"""What every source of forecasts gives: forecasts, and faults as values."""

from dataclasses import dataclass
from datetime import datetime, timedelta
from enum import StrEnum

from exchange.domain.weather.forecast import Forecast
from exchange.words.weather.weather import fault_sentence


class ForecastFaultKind(StrEnum):
    """What went wrong with a source."""

    UNREACHABLE = "unreachable"
    TOO_SLOW = "too slow"
    REFUSED = "refused"
    LIMIT = "limit"
    OVERLOADED = "overloaded"
    UNREADABLE = "unreadable"
    INCOMPLETE = "incomplete"
    WRONG_UNITS = "wrong units"
    WRONG_PLACE = "wrong place"
    OUT_OF_DATE = "out of date"
    NOT_OFFERED = "not offered"
    NO_FILE = "no file"
    NO_CONTACT = "no contact"


STOPPING = frozenset(
    {
        ForecastFaultKind.LIMIT,
        ForecastFaultKind.REFUSED,
        ForecastFaultKind.UNREACHABLE,
        ForecastFaultKind.TOO_SLOW,
    }
)
"""After one of these a service is not asked for further places."""


@dataclass(frozen=True, slots=True)
class ForecastFault:
    """One fault of a source.

    Attributes
    ----------
    source : the service or "saved file"
    said : what the source itself said about it, may be empty
    place_ids : the places left without a forecast by it
    not_before : do not ask this source again before this instant, None for no wish
    """

    source: str
    kind: ForecastFaultKind
    said: str
    place_ids: tuple[int, ...]
    not_before: datetime | None = None

    @property
    def sentence(self) -> str:
        """What went wrong, in the user's words."""
        return f"{self.source}: {fault_sentence(self.kind, self.said)}"


@dataclass(frozen=True, slots=True)
class Fetched:
    """What came of asking a source: each place has a forecast or stands in a fault."""

    forecasts: tuple[Forecast, ...] = ()
    faults: tuple[ForecastFault, ...] = ()

    def joined(self, other: "Fetched") -> "Fetched":
        """Give both together."""
        return Fetched(self.forecasts + other.forecasts, self.faults + other.faults)

    def not_before(self) -> datetime | None:
        """Give the latest instant before which a source wishes not to be asked again."""
        return max((f.not_before for f in self.faults if f.not_before), default=None)


class AnswerError(Exception):
    """An answer that cannot be used.

    Attributes
    ----------
    said : what the source itself said
    wait : how long, or until when, not to ask again
    """

    def __init__(
        self, kind: ForecastFaultKind, said: str = "", wait: timedelta | datetime | None = None
    ) -> None:
        super().__init__(kind, said)
        self.kind = kind
        self.said = said
        self.wait = wait

    def as_fault(self, source: str, place_ids: tuple[int, ...], now: datetime) -> ForecastFault:
        """Give the fault as a value."""
        wait = now + self.wait if isinstance(self.wait, timedelta) else self.wait
        return ForecastFault(source, self.kind, self.said, place_ids, wait)
