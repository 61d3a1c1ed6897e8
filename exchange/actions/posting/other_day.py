"""What taking another posting day would change, and what refuses it: one rule for moving and for posting anyway."""

from dataclasses import dataclass
from datetime import date

from exchange.actions.kernel.actor import Actor
from exchange.actions.kernel.edits import version_of
from exchange.actions.kernel.terms import posting_terms
from exchange.actions.posting.parcel_facts import lines_of
from exchange.actions.posting.parcels import AlreadyOnItsWayError, DayRefusedError, strip_day
from exchange.domain.posting.parcel import OPEN
from exchange.domain.posting.reasons import WEIGHED_WORDS, DayWord, PostingReason
from exchange.domain.posting.strip import StripDay
from exchange.records import Tx, circles
from exchange.records.rows.posting import ParcelRow
from exchange.words.posting import posting_days as words
from exchange.words.posting.anyway import over_limit

MAY_GO = WEIGHED_WORDS | {DayWord.UNKNOWN}
"""Words of days that the weather alone speaks against, if anything does."""


class OverLimitError(DayRefusedError):
    """More would be lost on the day than the circle agreed on: it can be posted then by who knows it."""


@dataclass(frozen=True, slots=True)
class Change:
    """What moving a parcel would change.

    Attributes
    ----------
    before : the strip's figures for the present day, None where it has none
    after : those for the day it would go
    """

    before: StripDay | None
    after: StripDay


def change_of(tx: Tx, actor: Actor, entry: ParcelRow, day: date) -> Change:
    """Say what moving to a day would change.

    Raises
    ------
    AlreadyOnItsWayError
        When it is on its way.
    DayRefusedError
        When something but the weather stops it that day.
    OverLimitError
        When more would be lost than the circle agreed on, or it is not known.
    """
    change = _weighed(entry, day)
    if speaks_against(change.after, _limit(tx, actor, entry)):
        raise OverLimitError(over_limit(_said(change.after)), "day")
    return change


def anyway_of(tx: Tx, actor: Actor, entry: ParcelRow, day: date) -> Change:
    """Say what posting on a day against advice would change.

    Raises
    ------
    AlreadyOnItsWayError
        When it is on its way.
    DayRefusedError
        When something but the weather stops it that day, or nothing speaks against it.
    """
    change = _weighed(entry, day)
    if not speaks_against(change.after, _limit(tx, actor, entry)):
        raise DayRefusedError(
            "Nothing speaks against that day: it can simply be moved there.", "day"
        )
    return change


def must_be_open(entry: ParcelRow) -> None:
    """Refuse what can only be said of a parcel that has not gone.

    Raises
    ------
    AlreadyOnItsWayError
        When it is on its way.
    """
    if entry.state not in OPEN:
        raise AlreadyOnItsWayError("It is on its way already.")


def day_version(entry: ParcelRow) -> str:
    """Give the version of a parcel's day, for the page on which it is moved."""
    return version_of(entry, ("posting_day", "announced_day"))


def _weighed(entry: ParcelRow, day: date) -> Change:
    must_be_open(entry)
    after = strip_day(entry, day)
    if after is None or not after.coming:
        raise DayRefusedError(
            "Nothing can be said of that day yet; choose one of the three weeks shown.", "day"
        )
    if after.word not in MAY_GO:
        raise DayRefusedError(f"It cannot go that day. {_said(after)}", "day")
    return Change(strip_day(entry, entry.posting_day), after)


def speaks_against(after: StripDay, limit: float) -> bool:
    """Say whether the weather alone speaks against a day: more would be lost than the limit, or it is not known."""
    return after.word in MAY_GO and (after.loss is None or after.loss > limit)


def _limit(tx: Tx, actor: Actor, entry: ParcelRow) -> float:
    terms = posting_terms(circles.get(tx, actor.circle_id))
    kept = any(line.must_not_be_lost for line in lines_of(tx, actor.circle_id, entry.id))
    return terms.loss_limit_kept if kept else terms.loss_limit


def _said(after: StripDay) -> str:
    return words.reason(PostingReason(after.word, after.day, None, after.loss, after.label))
