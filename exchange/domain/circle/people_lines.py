"""People written one a line, as "name, town, mail", read into their parts."""

import re
from dataclasses import dataclass

MOST_PEOPLE = 200
"""Most people invited at once (judgement) [people]."""

LONGEST_LINE = 300
"""Longest line read; a name, a town and an address need no more (judgement) [characters]."""

_MAIL = re.compile(r"(?:mailto:)?[^\s<>,;:()\"]+@[^\s<>,;()\"]*[^\s<>,;()\".]", re.IGNORECASE)
_APART = re.compile(r"[\t;,]")
_ONE_OF_MANY = re.compile(r"^\s*(?:[-*•–]|\d{1,3}[.)])\s+")
_HEADINGS = frozenset({"name", "names", "member", "members", "first name", "forename"})
_TWO = re.compile(r"\s(?:and|&|\+)\s", re.IGNORECASE)


class TooManyPeopleError(ValueError):
    """More people than are invited at once.

    Attributes
    ----------
    lines : how many lines were written [lines]
    """

    def __init__(self, lines: int) -> None:
        super().__init__(f"{lines} lines")
        self.lines = lines


@dataclass(frozen=True, slots=True)
class PersonLine:
    """One person as a line names them; what it does not name is empty.

    Attributes
    ----------
    text : the line as it was written
    name : first name, and surname where one is given
    town : as it was typed, with a county where one follows
    email : not checked yet
    """

    text: str
    name: str
    town: str = ""
    email: str = ""


def read_people(text: str) -> tuple[PersonLine, ...]:
    """Read people one a line; empty lines and a row of headings are passed over.

    The parts stand between commas, semicolons or tabs. A mail address is known by its @ wherever it
    stands; of the rest the first part is the name, what follows is the town with its county.

    Parameters
    ----------
    text : as typed, or pasted from a list

    Raises
    ------
    TooManyPeopleError
        When there are more lines than `MOST_PEOPLE`.
    """
    lines = [line for line in text.splitlines() if any(one.isalnum() for one in line)]
    if len(lines) > MOST_PEOPLE:
        raise TooManyPeopleError(len(lines))
    read = [_person(line[:LONGEST_LINE]) for line in lines]
    if read and read[0].name.casefold() in _HEADINGS:
        read = read[1:]
    return tuple(read)


def first_and_surname(name: str) -> tuple[str, str]:
    """Part a name after its first word; what follows is the surname."""
    first, _space, surname = " ".join(name.split()).partition(" ")
    return first, surname


def names_two(name: str) -> bool:
    """Say whether a name is that of a couple, "Alan and Dilys Pugh"."""
    return _TWO.search(f" {name} ") is not None


def _person(line: str) -> PersonLine:
    text = " ".join(line.split())
    found = _MAIL.search(line)
    email = found.group().removeprefix("mailto:").strip("'") if found else ""
    rest = f"{line[: found.start()]},{line[found.end() :]}" if found else line
    cleaned = _ONE_OF_MANY.sub("", rest)
    parts = [" ".join(part.split()).strip(' <>()"') for part in _APART.split(cleaned)]
    named = [part for part in parts if "@" not in part and any(one.isalnum() for one in part)]
    half = next((part for part in parts if "@" in part), "")
    return PersonLine(text, named[0] if named else "", ", ".join(named[1:]), email or half)
