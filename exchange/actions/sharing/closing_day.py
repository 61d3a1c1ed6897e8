"""The closing day: which may be given, and which spares have to be sent before it."""

from datetime import date, timedelta

from exchange.actions.kernel.refusals import RefusedError
from exchange.records import SPARES, Tx
from exchange.records.rows.growing import SpareRow

LONGEST_AHEAD = timedelta(days=366)
"""How far ahead a share-out may close (judgement): a later day is a mistyped year [d]."""


class ClosingDayRefusedError(RefusedError):
    """The closing day has passed, or lies too far ahead."""


def check_closing_day(closes_on: date, today: date) -> None:
    """Refuse a closing day that cannot be meant."""
    if closes_on < today:
        raise ClosingDayRefusedError("The closing day has passed; give a later one.", "closes_on")
    if closes_on > today + LONGEST_AHEAD:
        raise ClosingDayRefusedError("Give a closing day within a year from now.", "closes_on")


def offered_now(tx: Tx, circle_id: int) -> tuple[SpareRow, ...]:
    """Give the spares with plants left for a share-out: listed, not set aside, not all promised."""
    listed = SPARES.all(tx, circle_id, withdrawn_at=None, set_aside_for=None)
    return tuple(one for one in listed if one.count > one.allocated)


def too_late_for(tx: Tx, circle_id: int, closes_on: date, today: date) -> tuple[SpareRow, ...]:
    """Give the spares that can still be sent today, but no more on the closing day."""
    return tuple(one for one in offered_now(tx, circle_id) if today <= one.send_by < closes_on)
