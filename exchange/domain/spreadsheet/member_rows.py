"""Rows of members: the person, where they grow, how they are reached."""

import re
from collections.abc import Callable
from dataclasses import replace

from exchange.domain.growing.names import fold, one_line
from exchange.domain.spreadsheet.cells import is_two_people, person_in
from exchange.domain.spreadsheet.entry import SheetLine, questioned
from exchange.domain.spreadsheet.heads import ColumnHead
from exchange.domain.spreadsheet.known import KnownCircle, TownRead
from exchange.domain.spreadsheet.row import RowDoubt, RowRead, RowState, RowWhy

LONGEST_PERSON = 60
"""Longest first name or surname; the act refuses more (judgement) [characters]."""

_ADDRESS = re.compile(r"[^@\s,;<>]+@[^@\s,;<>]+\.[^@\s,;<>.]+")


def member_row(
    row: RowRead, line: SheetLine, known: KnownCircle, town: Callable[[str], TownRead]
) -> RowRead:
    """Read a row of members."""
    doubts: set[RowDoubt] = set()
    first, surname, sure = _person(line)
    if not any(sign.isalpha() for sign in first):
        return replace(row, state=RowState.REFUSED, why=RowWhy.NO_NAME)
    if max(len(first), len(surname)) > LONGEST_PERSON:
        return replace(row, state=RowState.REFUSED, why=RowWhy.TOO_LONG)
    if not sure:
        doubts.add(RowDoubt.PERSON)
    said = {"first_name": first, "surname": surname, "name": f"{first} {surname}".strip()}
    _keep_town(said, doubts, line, town)
    _keep_address(said, doubts, line)
    said["telephone"] = one_line(line.of(ColumnHead.TELEPHONE))
    row = replace(row, said=said, doubts=row.doubts | doubts)
    if RowDoubt.PERSON in doubts and is_two_people(line.of(ColumnHead.FULL_NAME) or line.of(ColumnHead.FIRST_NAME)):  # fmt: skip
        row = replace(row, why=RowWhy.TWO_PEOPLE)
    return _beside_known(row, line, known)


def _person(line: SheetLine) -> tuple[str, str, bool]:
    told = line.answers.get("first_name", "").strip()
    if told:
        return one_line(told), one_line(line.answers.get("surname", "")), True
    whole = line.of(ColumnHead.FULL_NAME)
    if whole and not line.of(ColumnHead.FIRST_NAME):
        return person_in(whole)
    first, surname = one_line(line.of(ColumnHead.FIRST_NAME)), one_line(line.of(ColumnHead.SURNAME))
    return first, surname, not is_two_people(first)


def _keep_town(
    said: dict[str, str], doubts: set[RowDoubt], line: SheetLine, town: Callable[[str], TownRead]
) -> None:
    cell = line.answers.get("town", "") or line.of(ColumnHead.TOWN)
    said["town"] = one_line(cell)
    if not said["town"]:
        return
    found = town(said["town"])
    chosen = line.answers.get("town_key", "")
    key = chosen if chosen in dict(found.towns) else found.key
    said["town_key"] = key
    if not key:
        doubts.add(RowDoubt.TOWN)


def _keep_address(said: dict[str, str], doubts: set[RowDoubt], line: SheetLine) -> None:
    cell = line.answers.get("email", line.of(ColumnHead.EMAIL)).strip()
    said["email"] = cell
    if cell and not _ADDRESS.fullmatch(cell):
        doubts.add(RowDoubt.EMAIL)


def _beside_known(row: RowRead, line: SheetLine, known: KnownCircle) -> RowRead:
    """Know a member again by the address; one of the same name is asked about."""
    name, email = fold(row.said["name"]), fold(row.said["email"])
    for one in known.members:
        same_name = fold(one.full_name) == name
        if email and fold(one.email) == email:
            if same_name:
                return replace(row, state=RowState.THERE, why=RowWhy.STANDS, doubts=frozenset())
            return questioned(row, line, RowWhy.LIKE_ANOTHER)
        if same_name and not (email and one.email):
            return replace(row, state=RowState.THERE, why=RowWhy.STANDS, doubts=frozenset())
        if same_name:
            return questioned(row, line, RowWhy.LIKE_ANOTHER)
    return row
