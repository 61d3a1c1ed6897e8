"""What Open-Meteo says when it does not answer, and how long to wait then."""

from datetime import UTC, datetime, timedelta

import requests

from exchange.forecasts.base import AnswerError, ForecastFaultKind
from exchange.forecasts.http import LATER, SOON, json_of, retry_after

_TOO_MANY = 429
_BAD = 400
_LONGEST_SAID = 200


def back_off(reason: str, now: datetime) -> datetime:
    """Give the instant until which to wait, read from the reason the service gives.

    Parameters
    ----------
    reason : text of the error body
    now : UTC
    """
    said = reason.casefold()
    if "minutely" in said:
        return now + timedelta(minutes=1)
    if "hourly" in said:
        return (now + timedelta(hours=1)).replace(minute=0, second=0, microsecond=0)
    if "daily" in said:
        midnight = now.astimezone(UTC).replace(hour=0, minute=0, second=0, microsecond=0)
        return midnight + timedelta(days=1)
    if "concurrent" in said:
        return now + timedelta(seconds=10)
    return now + SOON


def check_status(answer: requests.Response, now: datetime) -> None:
    """Accept a success.

    Raises
    ------
    AnswerError
        for any other answer, with the service's reason and how long to wait
    """
    if answer.ok:
        return
    said = _reason(answer)
    if answer.status_code == _TOO_MANY:
        raise AnswerError(
            ForecastFaultKind.LIMIT, said, retry_after(answer, now) or back_off(said, now)
        )
    if answer.status_code >= 500:
        wait = retry_after(answer, now) or timedelta(minutes=5)
        raise AnswerError(ForecastFaultKind.OVERLOADED, said, wait)
    if answer.status_code == _BAD and "no data is available" in said.casefold():
        raise AnswerError(ForecastFaultKind.NOT_OFFERED, said, LATER)
    raise AnswerError(ForecastFaultKind.REFUSED, said, LATER)


def _reason(answer: requests.Response) -> str:
    """Give the reason in an error body; a page or broken text gives none."""
    try:
        body = json_of(answer)
    except AnswerError:
        return ""
    reason = body.get("reason") if isinstance(body, dict) else None
    return reason[:_LONGEST_SAID] if isinstance(reason, str) else ""
