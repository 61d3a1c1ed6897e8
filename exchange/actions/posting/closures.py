"""Days without post: the public holidays of each part of a country, and what the circle typed in."""

from dataclasses import dataclass
from datetime import date, datetime, timedelta

from exchange.actions.kernel.actor import Actor, circle_of, note, today_in
from exchange.actions.kernel.refusals import RefusedError
from exchange.actions.kernel.tasks import ask
from exchange.domain.permissions import Permission
from exchange.records import CLOSURES, PLACES, Tx
from exchange.records.rows.circle import ClosureRow
from exchange.reference.holidays import KNOWN_UNTIL, SubdivisionNeededError, closures_of

SHOWN_AHEAD = timedelta(days=365)
"""How far ahead the holidays are shown [d]."""

LONGEST_LABEL = 60
FURTHEST_AHEAD = timedelta(days=3 * 365)
"""A closure further ahead is taken for a typing mistake [d]."""


class ClosureRefusedError(RefusedError):
    """The day cannot be kept as a day without post."""


@dataclass(frozen=True, slots=True, order=True)
class Area:
    """A part of a country with post of its own; an empty part is the whole country."""

    country: str
    subdivision: str = ""

    @property
    def key(self) -> str:
        return f"{self.country}-{self.subdivision}" if self.subdivision else self.country


@dataclass(frozen=True, slots=True, order=True)
class ClosedDay:
    """A day without post in an area, or a holiday on which there is post all the same.

    Attributes
    ----------
    closure_id : of the circle's own entry, None for a holiday as it is packaged
    opened : the circle says that there is post all the same
    """

    day: date
    label: str
    closure_id: int | None
    opened: bool = False


@dataclass(frozen=True, slots=True)
class ClosuresPage:
    """The coming days without post, area by area.

    Attributes
    ----------
    choices : areas a day may be closed in: those the circle lives in, and each whole country
    unknown_after : the last year whose British holidays are known, where the page looks further; else None
    """

    areas: tuple[tuple[Area, tuple[ClosedDay, ...]], ...]
    choices: tuple[Area, ...]
    unknown_after: int | None


def closures_page(actor: Actor, now: datetime) -> ClosuresPage:
    """Give the coming days without post, and the holidays that were opened."""
    actor.must(Permission.RUN_CIRCLE)
    with actor.books.reading() as tx:
        today = today_in(circle_of(actor, tx), now)
        typed = CLOSURES.all(tx, actor.circle_id)
        areas = _areas(tx, actor.circle_id)
        choices = _choices(tx, actor.circle_id)
    last = today + SHOWN_AHEAD
    beyond = last.year > KNOWN_UNTIL and any(one.country == "GB" for one in areas)
    shown = tuple((area, _days(area, typed, today, last)) for area in areas)
    return ClosuresPage(shown, choices, KNOWN_UNTIL if beyond else None)


def areas_of(actor: Actor) -> tuple[Area, ...]:
    """Give the areas the circle lives in, and each whole country."""
    actor.must(Permission.RUN_CIRCLE)
    with actor.books.reading() as tx:
        return _choices(tx, actor.circle_id)


def close_day(actor: Actor, area_key: str, day: date, label: str, now: datetime) -> int:
    """Keep a day on which there is no post.

    Raises
    ------
    ClosureRefusedError
        When the day has passed, lies too far ahead, or is closed already.
    """
    label = " ".join(label.split())
    if not 1 <= len(label) <= LONGEST_LABEL:
        raise ClosureRefusedError(
            f"Say in at most {LONGEST_LABEL} letters why there is no post.",
            "label",
        )
    actor.must(Permission.RUN_CIRCLE)
    with actor.books.writing() as tx:
        area = _area(tx, actor, area_key)
        return _record(tx, actor, area, ClosedDay(day, label, None), now)


def open_holiday(actor: Actor, area_key: str, day: date, now: datetime) -> int:
    """Say that there is post on a public holiday all the same.

    Raises
    ------
    ClosureRefusedError
        When that day is no holiday there.
    """
    actor.must(Permission.RUN_CIRCLE)
    with actor.books.writing() as tx:
        area = _area(tx, actor, area_key)
        holiday = ClosedDay(day, _holiday(area, day), None, opened=True)
        return _record(tx, actor, area, holiday, now)


def take_closure_back(actor: Actor, closure_id: int, now: datetime) -> None:
    """Remove an entry of the circle's own; a holiday that was opened is one again."""
    actor.must(Permission.RUN_CIRCLE)
    with actor.books.writing() as tx:
        entry = CLOSURES.get(tx, actor.circle_id, closure_id)
        CLOSURES.remove(tx, actor.circle_id, closure_id)
        note(tx, actor, "took back a day without post", f"{entry.day} {entry.label}", now)
        ask(tx, actor, "plan", None, now)


def _record(tx: Tx, actor: Actor, area: Area, wanted: ClosedDay, now: datetime) -> int:
    """Keep a day with or without post, within an act."""
    today = today_in(circle_of(actor, tx), now)
    if not today <= wanted.day <= today + FURTHEST_AHEAD:
        raise ClosureRefusedError("Give a day from today on, within the next three years.", "day")
    if CLOSURES.find(
        tx,
        actor.circle_id,
        country=area.country,
        subdivision=area.subdivision,
        day=wanted.day,
    ):
        raise ClosureRefusedError("That day stands there already; take it back first.", "day")
    closure_id = CLOSURES.add(
        tx,
        actor.circle_id,
        country=area.country,
        subdivision=area.subdivision,
        day=wanted.day,
        label=wanted.label,
        opened=wanted.opened,
    )
    act = "opened a holiday" if wanted.opened else "added a day without post"
    note(tx, actor, act, f"{wanted.day} {wanted.label}, {area.key}", now)
    ask(tx, actor, "plan", None, now)
    return closure_id


def _holiday(area: Area, day: date) -> str:
    """Give what a public holiday is called."""
    try:
        label = closures_of(area.country, area.subdivision, day, day).get(day)
    except SubdivisionNeededError as error:
        raise ClosureRefusedError("Choose one part of the country.", "area") from error
    if label is None:
        raise ClosureRefusedError("That day is no public holiday there.", "day")
    return label


def _area(tx: Tx, actor: Actor, key: str) -> Area:
    for area in _choices(tx, actor.circle_id):
        if area.key == key:
            return area
    raise ClosureRefusedError("Choose a place from the list.", "area")


def _areas(tx: Tx, circle_id: int) -> tuple[Area, ...]:
    places = PLACES.all(tx, circle_id)
    return tuple(sorted({Area(one.country, one.subdivision) for one in places}))


def _choices(tx: Tx, circle_id: int) -> tuple[Area, ...]:
    areas = _areas(tx, circle_id)
    return tuple(sorted({*areas, *(Area(one.country) for one in areas)}))


def _days(
    area: Area, typed: tuple[ClosureRow, ...], today: date, last: date
) -> tuple[ClosedDay, ...]:
    holidays = closures_of(area.country, area.subdivision, today, last)
    days = {day: ClosedDay(day, label, None) for day, label in holidays.items()}
    for one in typed:
        here = one.country == area.country and one.subdivision in ("", area.subdivision)
        if here and one.day >= today:
            days[one.day] = ClosedDay(one.day, one.label, one.id, one.opened)
    return tuple(days[day] for day in sorted(days))
