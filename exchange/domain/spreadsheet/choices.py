"""What a person has said of a file: what its sheets and columns hold, which name is meant, what to do with a row."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from enum import StrEnum
from types import MappingProxyType

from exchange.domain.growing.batch import Material, Raised
from exchange.domain.growing.variety import Species
from exchange.domain.spreadsheet.heads import ColumnHead

LEFT_OUT = "out"
"""The answer that leaves a name or a row out."""

NEW = "new"
"""Before a kind of plant, in the answer that a name is a new one; before nothing, of a member."""


class RowKind(StrEnum):
    """What the rows of a sheet are; across: varieties down, members over the columns."""

    MEMBERS = "members"
    VARIETIES = "varieties"
    STOCK = "stock"
    SPARES = "spares"
    CLAIMS = "claims"
    STOCK_ACROSS = "stock_across"
    SPARES_ACROSS = "spares_across"
    CLAIMS_ACROSS = "claims_across"
    NOTHING = "nothing"

    @property
    def of_a_row(self) -> "RowKind":
        """Give what one entry of such a sheet is."""
        return _OF_ACROSS.get(self, self)

    @property
    def is_across(self) -> bool:
        """Say whether members stand over the columns."""
        return self in _OF_ACROSS


_OF_ACROSS = {
    RowKind.STOCK_ACROSS: RowKind.STOCK,
    RowKind.SPARES_ACROSS: RowKind.SPARES,
    RowKind.CLAIMS_ACROSS: RowKind.CLAIMS,
}


@dataclass(frozen=True, slots=True)
class SheetChoices:
    """What was said of one sheet; None and nothing leave it as it is guessed, or asked about.

    Attributes
    ----------
    head_row : number of the row of headings, 0 for none
    columns : what the columns hold [number from 0, as text -> head]
    species, material, raised, ready_from, send_by, whose : where a row does not say
    day_first : whether 4/5 is the fourth of May
    fill_down : whether an empty name means the one above it
    mark_means : plants an x stands for [plants]
    """

    kind: RowKind | None = None
    head_row: int | None = None
    columns: Mapping[str, ColumnHead] = field(default_factory=lambda: MappingProxyType({}))
    species: Species | None = None
    material: Material | None = None
    raised: Raised | None = None
    ready_from: date | None = None
    send_by: date | None = None
    whose: str = ""
    day_first: bool | None = None
    fill_down: bool = False
    mark_means: int | None = None


@dataclass(frozen=True, slots=True)
class FileChoices:
    """What was said of a whole file.

    Attributes
    ----------
    encoding, delimiter : of a text file; empty for what is guessed
    names : which variety a name means [folded name -> id, "new:kind" or "out"]
    people : which member a name means [folded name -> id or "out"]
    rows : answers of single rows [key of the row -> field -> answer]
    """

    encoding: str = ""
    delimiter: str = ""
    sheets: Mapping[str, SheetChoices] = field(default_factory=lambda: MappingProxyType({}))
    names: Mapping[str, str] = field(default_factory=lambda: MappingProxyType({}))
    people: Mapping[str, str] = field(default_factory=lambda: MappingProxyType({}))
    rows: Mapping[str, Mapping[str, str]] = field(default_factory=lambda: MappingProxyType({}))

    def of_sheet(self, name: str) -> SheetChoices:
        """Give what was said of a sheet."""
        return self.sheets.get(name, SheetChoices())
