"""Days on which a household cannot receive, or cannot post; never shown to others."""

from dataclasses import dataclass
from datetime import date, datetime, timedelta

from exchange.actions.kernel.actor import Actor, circle_of, note, today_in
from exchange.actions.kernel.edits import must_be_as_opened, version_of
from exchange.actions.kernel.refusals import RefusedError
from exchange.domain.permissions import Permission, Subject
from exchange.records import AWAY
from exchange.records.rows.people import AwayRow
from exchange.words.kernel import dates

LONGEST = timedelta(days=366)
DAYS = ("first", "last", "cannot_receive", "cannot_post")
"""What the form of days away edits: the columns its version is made of."""


class DaysRefusedError(RefusedError):
    """The days away make no sense."""


@dataclass(frozen=True, slots=True)
class NewAway:
    """Days away, first and last counted."""

    first: date
    last: date
    cannot_receive: bool = True
    cannot_post: bool = True


@dataclass(frozen=True, slots=True)
class AwayThere:
    """Days away as they stand, with the version of their form."""

    away: AwayRow

    @property
    def version(self) -> str:
        return version_of(self.away, DAYS)


def go_away(actor: Actor, new: NewAway, now: datetime) -> int:
    """Say that the household is away."""
    household_id = actor.own_household()
    actor.must(Permission.KEEP_OWN, Subject(owner=household_id))
    with actor.books.writing() as tx:
        _check(new, today_in(circle_of(actor, tx), now))
        away_id = AWAY.add(
            tx,
            actor.circle_id,
            household_id=household_id,
            first=new.first,
            last=new.last,
            cannot_receive=new.cannot_receive,
            cannot_post=new.cannot_post,
        )
        note(tx, actor, "told of days away", dates.span(new.first, new.last), now)
    return away_id


def away_there(actor: Actor, away_id: int) -> AwayThere:
    """Give days away, for whoever may change them."""
    with actor.books.reading() as tx:
        away = AWAY.get(tx, actor.circle_id, away_id)
        actor.must(Permission.KEEP_OWN, Subject(owner=away.household_id))
        return AwayThere(away)


def change_away(
    actor: Actor, away_id: int, new: NewAway, now: datetime, *, opened: str | None = None
) -> None:
    """Correct days away; those that have begun may still end earlier or later."""
    with actor.books.writing() as tx:
        away = AWAY.get(tx, actor.circle_id, away_id)
        actor.must(Permission.KEEP_OWN, Subject(owner=away.household_id))
        must_be_as_opened(opened, version_of(away, DAYS))
        _check(new, today_in(circle_of(actor, tx), now))
        AWAY.change(
            tx,
            actor.circle_id,
            away_id,
            first=new.first,
            last=new.last,
            cannot_receive=new.cannot_receive,
            cannot_post=new.cannot_post,
        )
        what = f"{dates.span(away.first, away.last)}, now {dates.span(new.first, new.last)}"
        note(tx, actor, "corrected days away", what, now)


def stay(actor: Actor, away_id: int, now: datetime) -> None:
    """Take days away back."""
    with actor.books.writing() as tx:
        away = AWAY.get(tx, actor.circle_id, away_id)
        actor.must(Permission.KEEP_OWN, Subject(owner=away.household_id))
        AWAY.remove(tx, actor.circle_id, away_id)
        note(tx, actor, "took days away back", dates.span(away.first, away.last), now)


def _check(new: NewAway, today: date) -> None:
    if new.last < new.first:
        raise DaysRefusedError("The last day away comes before the first.", "last")
    if new.last < today:
        raise DaysRefusedError("Those days are over; write days to come.", "last")
    if new.last - new.first > LONGEST:
        raise DaysRefusedError("That is longer than a year; write it in parts.", "last")
    if not (new.cannot_receive or new.cannot_post):
        raise DaysRefusedError(
            "Tick what cannot be done on those days, or take them back.", "cannot_receive"
        )
