"""Asking over HTTP: one request, every failure turned into one named error."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from email.utils import parsedate_to_datetime
from typing import Any

import requests

from exchange.forecasts.base import AnswerError, ForecastFaultKind

USER_AGENT = "growers-circle-exchange/0.1"
SOON = timedelta(minutes=10)
LATER = timedelta(hours=1)

_CONNECT_S = 5.0
_LONGEST_WAIT = timedelta(days=1)


@dataclass(frozen=True, slots=True)
class Asking:
    """How to ask.

    Attributes
    ----------
    contact : address a service may write to, put into the User-Agent
    timeout_s : longest wait for an answer [s]
    """

    contact: str = ""
    timeout_s: float = 20.0

    def headers(self) -> dict[str, str]:
        """Give the headers of a request."""
        agent = f"{USER_AGENT} {self.contact}".strip()
        return {"User-Agent": agent, "Accept": "application/json"}


def ask(
    url: str, params: Mapping[str, str], asking: Asking, headers: Mapping[str, str] | None = None
) -> requests.Response:
    """Ask once and give the answer, whatever its status.

    Raises
    ------
    AnswerError
        when no answer came
    """
    try:
        return requests.get(
            url,
            params=params,
            headers={**asking.headers(), **(headers or {})},
            timeout=(min(_CONNECT_S, asking.timeout_s), asking.timeout_s),
        )
    except requests.Timeout:
        raise AnswerError(ForecastFaultKind.TOO_SLOW, wait=SOON) from None
    except requests.TooManyRedirects:
        raise AnswerError(ForecastFaultKind.UNREACHABLE, wait=LATER) from None
    except requests.RequestException:
        raise AnswerError(ForecastFaultKind.UNREACHABLE, wait=SOON) from None


def retry_after(answer: requests.Response, now: datetime) -> datetime | None:
    """Give the instant a Retry-After header names, in seconds or as a date; None without one."""
    said = answer.headers.get("Retry-After", "").strip()
    if said.isdigit():
        return now + min(timedelta(seconds=int(said)), _LONGEST_WAIT)
    try:
        return min(parsedate_to_datetime(said).astimezone(UTC), now + _LONGEST_WAIT)
    except (ValueError, TypeError):
        return None


def json_of(answer: requests.Response) -> Any:
    """Give the body as JSON.

    Raises
    ------
    AnswerError
        when it is not JSON: a page, or a broken half of an answer
    """
    try:
        return answer.json()
    except ValueError:
        raise AnswerError(ForecastFaultKind.UNREADABLE, wait=SOON) from None
