"""How much the forecasts tell of a parcel's journey, so that an outage is told apart from a change."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime, timedelta

from exchange.domain.weather.forecast import Outlook, WeatherSource


@dataclass(frozen=True, slots=True)
class Knowledge:
    """What the forecasts tell of the nights that matter for one day of posting.

    Attributes
    ----------
    missing : nights at either end that no forecast tells [nights]
    issued_at : when the older of the forecasts behind them was issued, None without any
    """

    missing: int
    issued_at: datetime | None = None

    def is_less_than(self, before: "Knowledge | None") -> bool:
        """Say whether it is less than before: more nights are missing, or a forecast is older."""
        if before is None:
            return False
        if before.issued_at is None:
            return self.missing > before.missing
        older = self.issued_at is None or self.issued_at < before.issued_at
        return older or self.missing > before.missing


def knowledge(ends: Iterable[Outlook | None], first: date, last: date) -> Knowledge:
    """Count what the forecasts of some places tell of the nights from the first to the last, both counted."""
    span = [first + timedelta(days=n) for n in range((last - first).days + 1)]
    missing, issued = 0, []
    for outlook in ends:
        nights = [outlook.night(day) for day in span] if outlook else [None] * len(span)
        told = [night for night in nights if night and night.source is WeatherSource.FORECAST]
        missing += len(span) - len(told)
        if told and outlook and outlook.issued_at:
            issued.append(outlook.issued_at)
    return Knowledge(missing, min(issued, default=None))
