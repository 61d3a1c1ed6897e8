"""Letters in the organiser's own words, to everybody or to chosen members."""

import re
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime

from exchange.actions.kernel.actor import Actor, circle_of, note
from exchange.actions.kernel.letters import goes_by_mail, write
from exchange.actions.kernel.refusals import RefusedError
from exchange.domain.growing.names import one_line
from exchange.domain.permissions import Permission
from exchange.records import LETTERS, MEMBERS, NotHereError, Tx
from exchange.records.rows.people import MemberRow
from exchange.records.rows.running import LetterRow, LetterState
from exchange.words.kernel import own_words as words
from exchange.words.kernel.letters import LetterReader, LetterText

KIND = "own_words"
ONCE = re.compile(r"[A-Za-z0-9_-]{1,40}")
_BY_MAIL = frozenset({LetterState.WAITING, LetterState.SENT})
LONGEST_SUBJECT = 150
LONGEST_TEXT = 10_000
"""Longest letter that is taken; about five pages [characters]."""


class LetterRefusedError(RefusedError):
    """The letter cannot be written like this."""


@dataclass(frozen=True, slots=True)
class OwnLetter:
    """A letter to be written.

    Attributes
    ----------
    to : members it goes to, None for everybody
    once : made with the form, so that two presses write one letter
    """

    subject: str
    text: str
    to: frozenset[int] | None
    once: str


@dataclass(frozen=True, slots=True)
class WriteTo:
    """A member a letter can go to.

    Attributes
    ----------
    by_mail : it is mailed; else somebody hands it over
    """

    member: MemberRow
    by_mail: bool


@dataclass(frozen=True, slots=True)
class WrittenToMany:
    """A letter as it was written to several.

    Attributes
    ----------
    once : its name in addresses
    text : as it can be copied, without greeting
    to : each letter with whom it is for
    """

    once: str
    subject: str
    text: str
    to: tuple[tuple[LetterRow, MemberRow], ...]

    @property
    def written_at(self) -> datetime:
        return self.to[0][0].written_at

    @property
    def by_mail(self) -> int:
        return sum(one.state in _BY_MAIL for one, _member in self.to)

    @property
    def can_be_taken_back(self) -> bool:
        return any(_is_here(one) for one, _member in self.to)


@dataclass(frozen=True, slots=True)
class OwnWordsPage:
    """Whom can be written to, and what was, the newest first."""

    readers: tuple[WriteTo, ...]
    earlier: tuple[WrittenToMany, ...]


def own_words_page(actor: Actor) -> OwnWordsPage:
    """Give everybody a letter can go to, and what was written before."""
    actor.must(Permission.RUN_CIRCLE)
    with actor.books.reading() as tx:
        members = MEMBERS.all(tx, actor.circle_id, left_at=None)
        earlier = _written(tx, actor)
    return OwnWordsPage(
        tuple(WriteTo(one, goes_by_mail(actor.house, one)) for one in members), earlier
    )


def write_in_own_words(actor: Actor, letter: OwnLetter, now: datetime) -> str:
    """Write a letter to everybody or to chosen members; give its name in addresses.

    Raises
    ------
    LetterRefusedError
        When it says nothing, is too long, or goes to nobody.
    """
    actor.must(Permission.RUN_CIRCLE)
    subject, text = one_line(letter.subject), letter.text.replace("\r\n", "\n").strip()
    _check(subject, text, letter.once)
    with actor.books.writing() as tx:
        members = [
            one
            for one in MEMBERS.all(tx, actor.circle_id, left_at=None)
            if letter.to is None or one.id in letter.to
        ]
        if not members:
            raise LetterRefusedError("Choose at least one member.", "members")
        circle = circle_of(actor, tx)
        by = words.signature(_first_name(tx, actor), circle.name)
        for one in members:
            body = words.body(LetterReader(one.first_name, circle.name), text, by)
            key = f"{KIND}:{actor.circle_id}.{letter.once}:{one.id}"
            write(tx, actor.house, one, LetterText(subject, body), key, now)
        note(tx, actor, "wrote to members", f"{subject}: to {words.members(len(members))}", now)
    return letter.once


def letter_written(actor: Actor, once: str) -> WrittenToMany:
    """Give one letter written before."""
    actor.must(Permission.RUN_CIRCLE)
    with actor.books.reading() as tx:
        return _one(_written(tx, actor), once)


def take_back_written(actor: Actor, once: str, now: datetime) -> int:
    """Take back what has not been mailed or handed over yet; give to how many [members]."""
    actor.must(Permission.RUN_CIRCLE)
    with actor.books.writing() as tx:
        written = _one(_written(tx, actor), once)
        here = [letter for letter, _member in written.to if _is_here(letter)]
        for letter in here:
            LETTERS.remove(tx, actor.circle_id, letter.id)
        note(tx, actor, "took back a letter", f"{written.subject}: {len(here)}", now)
    return len(here)


def _is_here(letter: LetterRow) -> bool:
    """Say whether a letter has not been handed to the mail server, nor to anybody."""
    waits = letter.state is LetterState.WAITING and letter.tries == 0
    return waits or letter.state is LetterState.BY_HAND


def _check(subject: str, text: str, once: str) -> None:
    if not ONCE.fullmatch(once):
        raise LetterRefusedError("This form was not made by a page; open the page again.")
    if not subject:
        raise LetterRefusedError("Write what it is about.", "subject")
    if len(subject) > LONGEST_SUBJECT:
        raise LetterRefusedError(f"Say it in at most {LONGEST_SUBJECT} letters.", "subject")
    if not text:
        raise LetterRefusedError("Write the letter.", "text")
    if len(text) > LONGEST_TEXT:
        raise LetterRefusedError(
            f"The letter is longer than {LONGEST_TEXT} letters; write it shorter.", "text"
        )


def _first_name(tx: Tx, actor: Actor) -> str:
    return MEMBERS.get(tx, actor.circle_id, actor.member_id).first_name if actor.member_id else ""


def _written(tx: Tx, actor: Actor) -> tuple[WrittenToMany, ...]:
    members, rounds = MEMBERS.by_id(tx, actor.circle_id), dict[str, list[LetterRow]]()
    for one in LETTERS.all(tx, actor.circle_id, kind=KIND):
        rounds.setdefault(_name_of(one), []).append(one)
    return tuple(
        WrittenToMany(
            name,
            found[0].subject,
            words.without_greeting(found[0].body),
            tuple((one, members[one.member_id]) for one in found),
        )
        for name, found in reversed(rounds.items())
    )


def _name_of(letter: LetterRow) -> str:
    return letter.key.split(":")[1].partition(".")[2]


def _one(written: Iterable[WrittenToMany], once: str) -> WrittenToMany:
    for one in written:
        if one.once == once:
            return one
    raise NotHereError("there is no such letter in this circle")
