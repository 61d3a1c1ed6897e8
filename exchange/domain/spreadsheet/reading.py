"""A whole file: its members first, then its varieties, then what members have, offer and would like."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace

from exchange.domain.growing.names import fold
from exchange.domain.growing.variety import Species, Variety
from exchange.domain.sharing.box.names import Names as BoxNames
from exchange.domain.sharing.box.names import known_names
from exchange.domain.spreadsheet.across import cell_row, key_of
from exchange.domain.spreadsheet.beside import beside_each_other
from exchange.domain.spreadsheet.cells import day_first
from exchange.domain.spreadsheet.choices import FileChoices, RowKind
from exchange.domain.spreadsheet.entry import SheetLine, begun, repeats_heads
from exchange.domain.spreadsheet.heads import ColumnHead, twice
from exchange.domain.spreadsheet.known import KnownCircle
from exchange.domain.spreadsheet.layout import SheetLayout, layout_of
from exchange.domain.spreadsheet.member_rows import member_row
from exchange.domain.spreadsheet.names import FileNames
from exchange.domain.spreadsheet.people import FilePeople
from exchange.domain.spreadsheet.plant_fields import ReadBeside
from exchange.domain.spreadsheet.plants import plant_row
from exchange.domain.spreadsheet.row import RowDoubt, RowRead, RowState, RowWhy
from exchange.domain.spreadsheet.sheet import Sheet
from exchange.domain.spreadsheet.variety_rows import variety_row

Watch = Callable[[float], None]
"""Hears which share of the rows is read [0 to 1]."""

_ORDER = (RowKind.MEMBERS, RowKind.VARIETIES, RowKind.STOCK)
"""Kinds of row that are read before all others, which may speak of them."""

_STEP = 50


@dataclass(frozen=True, slots=True)
class NameAsked:
    """A name of which it is asked which variety is meant.

    Attributes
    ----------
    key : the folded name
    rows : on how many rows it stands
    may_be : varieties of the circle that it may mean
    like : new names of the file that it may mean [folded, name]
    """

    key: str
    written: str
    name: str
    rows: int
    may_be: tuple[Variety, ...] = ()
    like: tuple[tuple[str, str], ...] = ()
    species: Species | None = None


@dataclass(frozen=True, slots=True)
class PersonAsked:
    """A name of which it is asked which member is meant [answer, name]."""

    key: str
    written: str
    rows: int
    may_be: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True, slots=True)
class SheetRead:
    """A sheet as it was read."""

    name: str
    layout: SheetLayout
    filled: int
    hidden: bool


@dataclass(frozen=True, slots=True)
class FileRead:
    """A file as it was read.

    Attributes
    ----------
    everybody : members that can be chosen [answer, name]
    encoding, delimiter, sure : of a text file, as they were taken, and whether the first is sure
    """

    sheets: tuple[SheetRead, ...]
    rows: tuple[RowRead, ...]
    names: tuple[NameAsked, ...] = ()
    people: tuple[PersonAsked, ...] = ()
    everybody: tuple[tuple[str, str], ...] = ()
    encoding: str = ""
    delimiter: str = ""
    sure: bool = True


def read_file(
    sheets: Sequence[Sheet],
    choices: FileChoices,
    known: KnownCircle,
    watch: Watch = lambda _share: None,
) -> FileRead:
    """Read the sheets of a file as far as they are understood; nothing in doubt is settled."""
    covered = known_names(one.name for one in known.varieties)
    names, people = FileNames(known.varieties, choices.names), FilePeople(known.members)
    laid = {
        one.name: layout_of(one, choices.of_sheet(one.name), people.spoken_of()) for one in sheets
    }
    reader = _Reader(choices, known, names, people, covered, watch, sum(len(one.rows) for one in sheets))  # fmt: skip
    rows: dict[str, list[RowRead]] = {}
    for sheet in sheets:
        if laid[sheet.name].kind is RowKind.MEMBERS:
            rows[sheet.name] = list(reader.rows(sheet, laid[sheet.name]))
    new = [
        (one.said["first_name"], one.said["name"])
        for found in rows.values() for one in found
        if one.said and one.state is not RowState.OUT
    ]  # fmt: skip
    reader.people = people = FilePeople(known.members, new, choices.people)
    others = [one for one in sheets if one.name not in rows]
    for sheet in others:
        choice = choices.of_sheet(sheet.name)
        laid[sheet.name] = layout_of(sheet, choice, people.spoken_of())
    for sheet in sorted(others, key=lambda one: _turn(laid[one.name].kind)):
        rows[sheet.name] = list(reader.rows(sheet, laid[sheet.name]))
    everything = [row for sheet in sheets for row in rows[sheet.name]]
    ended = beside_each_other(everything, choices, known, people)
    return FileRead(
        tuple(SheetRead(one.name, laid[one.name], one.filled(), one.hidden) for one in sheets),
        ended,
        _names_asked(ended, names),
        _people_asked(ended, people),
        people.everybody,
    )


def _turn(kind: RowKind | None) -> int:
    """Give when in turn a sheet is read."""
    own = kind.of_a_row if kind else None
    return _ORDER.index(own) if own in _ORDER else len(_ORDER)


@dataclass(slots=True)
class _Reader:
    choices: FileChoices
    known: KnownCircle
    names: FileNames
    people: FilePeople
    covered: BoxNames
    watch: Watch
    total: int
    done: int = 0

    def rows(self, sheet: Sheet, layout: SheetLayout) -> Iterator[RowRead]:
        """Read the rows of one sheet."""
        kind = layout.kind
        if kind is None or kind is RowKind.NOTHING:
            return
        said = self.choices.of_sheet(sheet.name)
        doubled = bool(twice(layout.columns))
        around = ReadBeside(self.names, self.people, self.covered, _day_orders(sheet, layout, said.day_first), {})  # fmt: skip
        above: dict[ColumnHead, str] = {}
        for at in range(layout.head_row, len(sheet.rows)):
            self.done += 1
            if self.done % _STEP == 0:
                self.watch(self.done / self.total)
            if not any(sheet.rows[at]):
                continue
            line = SheetLine(sheet, layout, said, at, {})
            around = replace(around, above=dict(above))
            for row in self._of_line(line, kind, around):
                yield replace(row, doubts=row.doubts | {RowDoubt.COLUMNS}) if doubled else row
            for head in (ColumnHead.NAME, ColumnHead.WHOSE):
                above[head] = line.of(head) or above.get(head, "")

    def _told(self, line: SheetLine) -> SheetLine:
        return replace(line, answers=self.choices.rows.get(key_of(line), {}))

    def _of_line(self, line: SheetLine, kind: RowKind, around: ReadBeside) -> Iterator[RowRead]:
        if kind.is_across:
            for column in line.columns_of(ColumnHead.MEMBER):
                if line.sheet.cell(line.at, column):
                    yield cell_row(self._told(replace(line, column=column)), kind, around)
            return
        line = self._told(line)
        row = begun(line, kind)
        if row.state is not RowState.READY:
            yield row
        elif repeats_heads(line):
            yield replace(row, state=RowState.OUT, why=RowWhy.HEADING)
        elif kind is RowKind.MEMBERS:
            yield member_row(row, line, self.known, self.known.town)
        elif kind is RowKind.VARIETIES:
            yield variety_row(row, line, around)
        else:
            yield plant_row(row, line, around, _cells(line, around))


def _cells(line: SheetLine, around: ReadBeside) -> tuple[str, str, str]:
    above = around.above if line.choices.fill_down else {}
    name = line.of(ColumnHead.NAME) or above.get(ColumnHead.NAME, "")
    return name, line.of(ColumnHead.COUNT), line.of(ColumnHead.WHOSE)


def _day_orders(
    sheet: Sheet, layout: SheetLayout, said: bool | None
) -> dict[ColumnHead, bool | None]:
    """Decide for each column of days whether the day stands first."""
    found: dict[ColumnHead, bool | None] = {}
    for at, column in enumerate(layout.columns):
        if column.head in {ColumnHead.READY_FROM, ColumnHead.SEND_BY}:
            cells = [sheet.cell(row, at) for row in range(layout.head_row, len(sheet.rows))]
            order = day_first(cells)
            found[column.head] = said if order is None else order
    return found


def _names_asked(rows: Sequence[RowRead], names: FileNames) -> tuple[NameAsked, ...]:
    """Give each name that is in doubt once, with what it may mean."""
    asked: dict[str, NameAsked] = {}
    for row in rows:
        if RowDoubt.NAME not in row.doubts:
            continue
        written, name = row.said["written"], row.said["name"]
        key = fold(written)
        if key in asked:
            asked[key] = replace(asked[key], rows=asked[key].rows + 1)
            continue
        species = Species(row.said["species"]) if "species" in row.said else None
        found = names.find(written, name, species, sure=False)
        like = tuple((fold(one), one) for one in found.like)
        asked[key] = NameAsked(key, written, name, 1, found.may_be, like, species)
    return tuple(asked.values())


def _people_asked(rows: Sequence[RowRead], people: FilePeople) -> tuple[PersonAsked, ...]:
    asked: dict[str, PersonAsked] = {}
    for row in rows:
        written = row.said.get("person", "")
        if RowDoubt.WHOSE not in row.doubts or not fold(written):
            continue
        key = fold(written)
        before = asked.get(key) or PersonAsked(key, written, 0, people.find(written).may_be)
        asked[key] = replace(before, rows=before.rows + 1)
    return tuple(asked.values())
