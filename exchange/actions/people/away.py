"""Days on which a household cannot receive, or cannot post; never shown to others."""

from dataclasses import dataclass
from datetime import date, datetime, timedelta

from exchange.actions.kernel.actor import Actor, circle_of, note, today_in
from exchange.actions.kernel.refusals import RefusedError
from exchange.domain.permissions import Permission, Subject
from exchange.records import AWAY
from exchange.words.kernel import dates

LONGEST = timedelta(days=366)


class DaysRefusedError(RefusedError):
    """The days away make no sense."""


@dataclass(frozen=True, slots=True)
class NewAway:
    """Days away, first and last counted."""

    first: date
    last: date
    cannot_receive: bool = True
    cannot_post: bool = True


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
