"""The circle's terms: looked at, changed one by one, put back as they were."""

from dataclasses import dataclass
from datetime import datetime
from typing import Any

from exchange.actions.kernel.actor import Actor, circle_of, note
from exchange.actions.kernel.edits import must_be_as_opened, version_of
from exchange.actions.kernel.tasks import ask
from exchange.actions.kernel.terms import (
    AnyTerms,
    changes,
    posting_terms,
    sharing_terms,
    usual_sharing,
)
from exchange.actions.kernel.terms_table import POSTING, TERMS, Term, value_of, with_value
from exchange.domain.permissions import Permission
from exchange.domain.posting.circumstances import PostingTerms
from exchange.records import Tx, circles
from exchange.records.rows.circle import CircleRow
from exchange.words.circle import terms as words


@dataclass(frozen=True, slots=True)
class TermLine:
    """A term as it stands.

    Attributes
    ----------
    value, usual : in words, see `terms_table.value_of`
    """

    term: Term
    title: str
    meaning: str
    value: Any
    usual: Any

    @property
    def changed(self) -> bool:
        return bool(self.value != self.usual)

    @property
    def version(self) -> str:
        return version_of(self, ("value",))

    @property
    def said(self) -> str:
        return words.said(self.term.how, self.value)

    @property
    def said_usual(self) -> str:
        return words.said(self.term.how, self.usual)


def terms_page(actor: Actor) -> tuple[TermLine, ...]:
    """Give every term with its value, its default and its meaning."""
    actor.must(Permission.RUN_CIRCLE)
    with actor.books.reading() as tx:
        return term_lines(circle_of(actor, tx))


def term_lines(circle: CircleRow) -> tuple[TermLine, ...]:
    """Give every term of a circle as it stands."""
    return tuple(_line(one, circle) for one in TERMS)


def term_line(actor: Actor, one: Term) -> TermLine:
    """Give one term as it stands."""
    actor.must(Permission.RUN_CIRCLE)
    with actor.books.reading() as tx:
        return _line(one, circle_of(actor, tx))


def set_term(
    actor: Actor, one: Term, value: Any, now: datetime, *, opened: str | None = None
) -> None:
    """Change a term; parcels are weighed again where it concerns them.

    Raises
    ------
    TermRefusedError
        When the value is not allowed.
    """
    actor.must(Permission.RUN_CIRCLE)
    with actor.books.writing() as tx:
        circle = circle_of(actor, tx)
        must_be_as_opened(opened, _line(one, circle).version)
        record_term(tx, actor, one, value, now)


def reset_term(actor: Actor, one: Term, now: datetime) -> None:
    """Put a term back to what is usual."""
    actor.must(Permission.RUN_CIRCLE)
    with actor.books.writing() as tx:
        usual = value_of(one, _usual(one.part, circle_of(actor, tx)))
        record_term(tx, actor, one, usual, now)


def record_term(tx: Tx, actor: Actor, one: Term, value: Any, now: datetime) -> None:
    """Keep a term's value and have parcels weighed again by it, within an act."""
    circle = circle_of(actor, tx)
    wanted = with_value(one, _terms(one.part, circle), value)
    before, after = _value(one, circle), value_of(one, wanted)
    if before == after:
        return
    _keep(tx, circle, one.part, wanted)
    told = f"{words.title(one.key)}: {words.said(one.how, after)}"
    was = words.said(one.how, before)
    note(tx, actor, "changed the circle's terms", f"{told}, was {was}", now)
    _weigh_anew(tx, actor, one, now)


def _line(one: Term, circle: CircleRow) -> TermLine:
    usual = value_of(one, _usual(one.part, circle))
    return TermLine(one, words.title(one.key), words.meaning(one.key), _value(one, circle), usual)


def _value(one: Term, circle: CircleRow) -> Any:
    return value_of(one, _terms(one.part, circle))


def _terms(part: str, circle: CircleRow) -> AnyTerms:
    return posting_terms(circle) if part == POSTING else sharing_terms(circle)


def _usual(part: str, circle: CircleRow) -> AnyTerms:
    return PostingTerms() if part == POSTING else usual_sharing(circle)


def _keep(tx: Tx, circle: CircleRow, part: str, wanted: AnyTerms) -> None:
    kept = {**circle.terms, part: changes(_usual(part, circle), wanted)}
    circles.change(tx, circle.id, terms=kept)


def _weigh_anew(tx: Tx, actor: Actor, one: Term, now: datetime) -> None:
    if one.part == POSTING:
        ask(tx, actor, "plan", None, now)
