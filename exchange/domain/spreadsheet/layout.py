"""How a sheet is laid out: which row holds the headings, what the columns are, what the rows are."""

import re
from collections.abc import Collection, Sequence
from dataclasses import dataclass

from exchange.domain.growing.names import fold
from exchange.domain.spreadsheet.choices import RowKind, SheetChoices
from exchange.domain.spreadsheet.heads import ColumnHead, ColumnRead, head_of
from exchange.domain.spreadsheet.sheet import Sheet

HEADS_WITHIN = 15
"""How many rows from the top may stand above the headings (judgement) [rows]."""

_SAYS: tuple[tuple[RowKind, str], ...] = (
    (RowKind.SPARES, r"spares?|offers?|surplus|to give|give away|offered"),
    (RowKind.CLAIMS, r"wish(?:es)?|wants?|wanted|claims?|requests?|requested|would like|asked|asked by|wanted by"),
    (RowKind.STOCK, r"stock|holdings?|we have|who grows|grown|census|count"),
    (RowKind.MEMBERS, r"members?|addresses"),
    (RowKind.VARIETIES, r"varieties|variety list"),
)  # fmt: skip
_TOTAL = re.compile(r"(?:grand )?totals?|sum|all", re.IGNORECASE)
_PEOPLE = frozenset(
    {
        ColumnHead.FIRST_NAME,
        ColumnHead.SURNAME,
        ColumnHead.FULL_NAME,
        ColumnHead.TOWN,
        ColumnHead.EMAIL,
        ColumnHead.TELEPHONE,
    }
)
_OF_SPARES = frozenset({ColumnHead.SEND_BY, ColumnHead.READY_FROM})
_OF_A_VARIETY = frozenset({ColumnHead.KEEPS, ColumnHead.MUST_NOT_BE_LOST})


@dataclass(frozen=True, slots=True)
class SheetLayout:
    """A sheet as it is laid out.

    Attributes
    ----------
    head_row : number of the row of headings, 0 where none was found
    kind : what the rows are, None where it has to be asked
    said : whether somebody has said so
    """

    head_row: int
    columns: tuple[ColumnRead, ...]
    kind: RowKind | None
    said: bool


def layout_of(sheet: Sheet, choices: SheetChoices, people: Collection[str] = ()) -> SheetLayout:
    """Give the layout of a sheet, as it is guessed or was said.

    Parameters
    ----------
    people : folded names by which members are called
    """
    at = _head_row(sheet, people) if choices.head_row is None else choices.head_row
    words = sheet.rows[at - 1] if 0 < at <= len(sheet.rows) else ()
    heads = [head_of(word) for word in words]
    heads += [ColumnHead.OTHER] * (sheet.width - len(heads))
    across = choices.kind.is_across if choices.kind else _is_across(words, heads, people)
    if across:
        heads = _across(words, heads)
    # What somebody has hidden may be of another year: nothing of it is taken unasked.
    guessed = None if sheet.hidden else _kind(sheet, at, heads, across=across)
    kind = choices.kind or guessed
    heads = _settled(kind, heads)
    columns = tuple(
        ColumnRead(
            words[at_column] if at_column < len(words) else "",
            _example(sheet, at, at_column),
            choices.columns.get(str(at_column), head),
            str(at_column) in choices.columns,
        )
        for at_column, head in enumerate(heads)
    )
    return SheetLayout(at, columns, kind, choices.kind is not None)


def _head_row(sheet: Sheet, people: Collection[str]) -> int:
    """Give the number of the row near the top that holds the most headings, 0 where none does."""
    best, most = 0, 0
    for number, row in enumerate(sheet.rows[:HEADS_WITHIN], start=1):
        heads = {head_of(cell) for cell in row if cell} - {ColumnHead.OTHER}
        named = sum(fold(cell) in people for cell in row if cell)
        found = len(heads) + (named if named > 1 else 0)
        alone = sum(bool(cell) for cell in row) == 1
        telling = (
            bool(heads & {ColumnHead.NAME, ColumnHead.FULL_NAME, ColumnHead.FIRST_NAME})
            or named > 1
        )
        if telling and found > most and (found > 1 or alone or named > 1):
            best, most = number, found
    return best


def _is_across(words: Sequence[str], heads: Sequence[ColumnHead], people: Collection[str]) -> bool:
    others = [
        word
        for word, head in zip(words[1:], heads[1:], strict=False)
        if word and head is ColumnHead.OTHER and not _TOTAL.fullmatch(word.strip())
    ]
    named = sum(fold(one) in people for one in others)
    return named > 1 and named * 2 >= len(others)


def _across(words: Sequence[str], heads: list[ColumnHead]) -> list[ColumnHead]:
    """Take the first column for the names, and every heading that is not known for a member."""
    kept = {
        ColumnHead.SPECIES,
        ColumnHead.NOTE,
        ColumnHead.NOT_READ,
        ColumnHead.MATERIAL,
        ColumnHead.RAISED,
    }
    found: list[ColumnHead] = []
    for at, head in enumerate(heads):
        if head in kept:
            found.append(head)
        elif ColumnHead.NAME not in found and (
            head in {ColumnHead.NAME, ColumnHead.FULL_NAME} or at == 0
        ):
            found.append(ColumnHead.NAME)
        else:
            word = words[at] if at < len(words) else ""
            total = _TOTAL.fullmatch(word.strip())
            found.append(ColumnHead.NOT_READ if total or not word else ColumnHead.MEMBER)
    return found


def _kind(sheet: Sheet, at: int, heads: Sequence[ColumnHead], *, across: bool) -> RowKind | None:
    """Guess what the rows are; where two readings are open, none is given."""
    has = set(heads)
    if across:
        said = _named(sheet, at)
        return {
            RowKind.SPARES: RowKind.SPARES_ACROSS,
            RowKind.CLAIMS: RowKind.CLAIMS_ACROSS,
            RowKind.STOCK: RowKind.STOCK_ACROSS,
        }.get(said) if said else None  # fmt: skip
    if (
        has & {ColumnHead.EMAIL, ColumnHead.TELEPHONE, ColumnHead.FIRST_NAME, ColumnHead.SURNAME}
        and ColumnHead.NAME not in has
    ):
        return RowKind.MEMBERS
    if ColumnHead.FULL_NAME in has and ColumnHead.TOWN in has and ColumnHead.COUNT not in has:
        return RowKind.MEMBERS
    if ColumnHead.NAME not in has and ColumnHead.FULL_NAME not in has:
        return None
    listed = has & {
        ColumnHead.COUNT,
        ColumnHead.WHOSE,
        ColumnHead.MATERIAL,
        ColumnHead.CHOICE,
        *_OF_SPARES,
    }
    if not listed and has & {ColumnHead.SPECIES, *_OF_A_VARIETY}:
        return RowKind.VARIETIES
    said = _named(sheet, at)
    if said in {RowKind.SPARES, RowKind.CLAIMS, RowKind.STOCK}:
        return said
    if has & _OF_SPARES and ColumnHead.CHOICE not in has:
        return RowKind.SPARES
    return RowKind.CLAIMS if ColumnHead.CHOICE in has and not has & _OF_SPARES else None


def _named(sheet: Sheet, at: int) -> RowKind | None:
    """Give what the name of a sheet, its title and its headings say it holds, where they agree."""
    title = [cell for row in sheet.rows[: max(0, at - 1)] for cell in row if cell]
    heads = sheet.rows[at - 1] if at else ()
    for texts in ((sheet.name,), title, heads):
        found = {
            kind
            for kind, pattern in _SAYS
            for text in texts
            if re.search(rf"(?<![^\W_])(?:{pattern})(?![^\W_])", text, re.IGNORECASE)
        }
        if texts is heads:
            found -= {RowKind.MEMBERS, RowKind.VARIETIES}
        if found:
            return found.pop() if len(found) == 1 else None
    return None


def _settled(kind: RowKind | None, heads: list[ColumnHead]) -> list[ColumnHead]:
    """Read "Name" as what it means in such a sheet."""
    if kind is RowKind.MEMBERS:
        turn = {ColumnHead.NAME: ColumnHead.FULL_NAME, ColumnHead.WHOSE: ColumnHead.FULL_NAME}
        return [turn.get(one, one) if ColumnHead.FULL_NAME not in heads else one for one in heads]
    if ColumnHead.NAME not in heads and ColumnHead.FULL_NAME in heads:
        return [ColumnHead.NAME if one is ColumnHead.FULL_NAME else one for one in heads]
    return [ColumnHead.WHOSE if one is ColumnHead.FULL_NAME else one for one in heads]


def _example(sheet: Sheet, at: int, column: int) -> str:
    return next((cell for row in range(at, len(sheet.rows)) if (cell := sheet.cell(row, column))), "")  # fmt: skip
