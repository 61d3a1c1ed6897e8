"""Rows pasted from a spreadsheet: which column holds what, by the row of headings."""

import re
from dataclasses import dataclass
from enum import Enum, auto

_HEADS: tuple[tuple[str, str], ...] = (
    ("name", r"(?:variety|varieties|name|cultivar|plant(?:\s+name)?|sort|which(?:\s+plant)?|what)(?:\s+name)?"),
    ("count", r"(?:qty\.?|quantity|number|how\s+many|count|no\.?|nr\.?|#|pieces|pcs\.?|amount|spares?|number\s+of\s+plants|plants)"),
    ("material", r"(?:sent\s+as|as|type|form|material|what\s+as|sort\s+of\s+plant|cutting\s*/?\s*tuber)"),
    ("raised", r"(?:raised|how\s+raised|raising|grown)"),
    ("species", r"(?:kind|genus|species|kind\s+of\s+plant|group)"),
    ("notes", r"(?:notes?|remarks?|comments?)"),
)  # fmt: skip
_DELIMITERS = ("\t", ";", "|", ",")
_TOTAL = re.compile(r"^(?:(?:sub|grand)[\s-]?)?(?:totals?|sum|altogether)\b", re.IGNORECASE)


class Column(Enum):
    """What a column holds."""

    NAME = auto()
    COUNT = auto()
    MATERIAL = auto()
    RAISED = auto()
    SPECIES = auto()
    NOTES = auto()
    OTHER = auto()


@dataclass(frozen=True, slots=True)
class Heads:
    """The row of headings of a table.

    Attributes
    ----------
    columns : what each column holds
    words : the headings
    """

    delimiter: str
    columns: tuple[Column, ...]
    words: tuple[str, ...]

    @property
    def two_counts(self) -> bool:
        """Whether more than one column may hold the number of plants."""
        return self.columns.count(Column.COUNT) > 1


@dataclass(frozen=True, slots=True)
class Row:
    """A row of a table, its cells by what their column holds.

    Attributes
    ----------
    others : cells of columns that are not read, with their headings
    ragged : whether there are more cells than headings
    """

    name: str
    count: str
    material: str
    raised: str
    species: str
    notes: str
    others: tuple[tuple[str, str], ...]
    ragged: bool

    @property
    def total(self) -> bool:
        """Whether the row adds up the others."""
        return bool(_TOTAL.match(self.name))


def heads_of(line: str) -> Heads | None:
    """Read a row of headings; None for any other line."""
    for delimiter in _DELIMITERS:
        words = tuple(one.strip(" \"'") for one in line.split(delimiter))
        if len(words) < 2:
            continue
        columns = tuple(_column(one) for one in words)
        known = {one for one in columns if one is not Column.OTHER}
        if Column.NAME in known and len(known) > 1 and columns.count(Column.NAME) == 1:
            return Heads(delimiter, columns, words)
    return None


def _column(word: str) -> Column:
    for name, pattern in _HEADS:
        if re.fullmatch(pattern, word, re.IGNORECASE):
            return Column[name.upper()]
    return Column.OTHER


def row_of(heads: Heads, line: str) -> Row | None:
    """Read a row below headings; None for a line that is no row."""
    cells = [one.strip(' "') for one in line.split(heads.delimiter)]
    if len(cells) < 2:
        return None
    while len(cells) > len(heads.columns) and not cells[-1]:
        cells.pop()
    pairs = list(zip(heads.columns, cells, strict=False))

    def of(column: Column) -> str:
        return " ".join(cell for one, cell in pairs if one is column and cell)

    others = tuple(
        (word, cell)
        for word, column, cell in zip(heads.words, heads.columns, cells, strict=False)
        if column is Column.OTHER and cell
    )
    return Row(
        of(Column.NAME), of(Column.COUNT), of(Column.MATERIAL), of(Column.RAISED),
        of(Column.SPECIES), of(Column.NOTES), others, len(cells) > len(heads.columns),
    )  # fmt: skip
