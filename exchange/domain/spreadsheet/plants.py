"""Rows of stock, spares and claims: the cells read as the box reads a table, then whose, which and when."""

from dataclasses import replace

from exchange.domain.growing.batch import Material
from exchange.domain.growing.names import one_line
from exchange.domain.sharing.box.entry import MOST_PLANTS_A_LINE, BoxDoubt, BoxEntry, What
from exchange.domain.sharing.box.entry import Why as BoxWhy
from exchange.domain.sharing.box.rows import row_entry
from exchange.domain.sharing.box.tables import Column, Heads, Row
from exchange.domain.spreadsheet.cells import is_mark
from exchange.domain.spreadsheet.choices import LEFT_OUT, RowKind
from exchange.domain.spreadsheet.entry import SheetLine, questioned
from exchange.domain.spreadsheet.heads import ColumnHead
from exchange.domain.spreadsheet.plant_fields import PlantFields, ReadBeside
from exchange.domain.spreadsheet.row import RowDoubt, RowRead, RowState, RowWhy

_DOUBTS = {
    BoxDoubt.WHAT: RowDoubt.WHAT,
    BoxDoubt.COUNT: RowDoubt.COUNT,
    BoxDoubt.MATERIAL: RowDoubt.MATERIAL,
    BoxDoubt.RAISED: RowDoubt.RAISED,
    BoxDoubt.NAME: RowDoubt.NAME,
}
_WHYS = {
    BoxWhy.NONE_LEFT: RowWhy.NONE_LEFT,
    BoxWhy.PROMISED: RowWhy.PROMISED,
    BoxWhy.HEADING: RowWhy.TOTAL,
    BoxWhy.UNCERTAIN: RowWhy.UNCERTAIN,
}
_FAULTS = {"no name": RowWhy.NO_NAME, "count": RowWhy.COUNT, "too long": RowWhy.TOO_LONG}
_OF_A_CLAIM = frozenset({RowDoubt.MATERIAL, RowDoubt.RAISED})
_HEADS = Heads("", (Column.NAME, Column.COUNT), ("", ""))


def plant_row(
    row: RowRead, line: SheetLine, around: ReadBeside, cells: tuple[str, str, str]
) -> RowRead:
    """Read a row of plants, or one cell of a cross-table.

    Parameters
    ----------
    cells : the name of the variety, the number and whose it is, as they are written
    """
    kind, (name, count, whose) = row.kind.of_a_row, cells
    entry = _entry(line, around, name, _counted(line, kind, count))
    if entry.fault:
        return replace(row, state=RowState.REFUSED, why=_FAULTS[entry.fault])
    why = _WHYS.get(entry.why, RowWhy.UNCERTAIN) if entry.why else RowWhy.UNCERTAIN
    if entry.what is What.OUT:
        return replace(row, state=RowState.OUT, why=why)
    fields = PlantFields(line, around, {_DOUBTS[one] for one in entry.doubts if one in _DOUBTS}, {})
    fields.count(entry)
    fields.material(entry)
    fields.raised(entry)
    fields.name(name, entry)
    fields.whose(whose)
    if kind is RowKind.CLAIMS:
        fields.choice()
        fields.doubts -= _OF_A_CLAIM
    if kind is RowKind.SPARES:
        fields.day(ColumnHead.READY_FROM, RowDoubt.READY_FROM, line.choices.ready_from)
        fields.day(ColumnHead.SEND_BY, RowDoubt.SEND_BY, line.choices.send_by)
        fields.said["note"] = one_line(line.of(ColumnHead.NOTE))
    return _kept(row, line, fields, why)


def _kept(row: RowRead, line: SheetLine, fields: PlantFields, why: RowWhy) -> RowRead:
    if RowDoubt.WHAT in fields.doubts:
        fields.doubts.discard(RowDoubt.WHAT)
        row = questioned(row, line, why)
    row = replace(row, said=fields.said, doubts=row.doubts | fields.doubts)
    if LEFT_OUT in {fields.said.get("variety"), fields.said.get("whose")}:
        return replace(row, state=RowState.OUT, why=RowWhy.CHOSEN)
    if row.kind.of_a_row is not RowKind.CLAIMS and fields.said.get("material") == Material.SEED:
        return replace(row, state=RowState.REFUSED, why=RowWhy.SEED)
    whose = fields.said["whose"]
    if whose and not fields.around.people.has_place(whose):
        return replace(row, state=RowState.REFUSED, why=RowWhy.NO_PLACE)
    return row


def _counted(line: SheetLine, kind: RowKind, count: str) -> str:
    """Give the cell of the number: a mark is what was said it means; a claim without such a column is one plant."""
    if is_mark(count) and line.choices.mark_means:
        return str(line.choices.mark_means)
    if (
        kind is RowKind.CLAIMS
        and not count
        and not line.has(ColumnHead.COUNT)
        and not line.is_across
    ):
        return "1"
    return count


def _entry(line: SheetLine, around: ReadBeside, name: str, count: str) -> BoxEntry:
    row = Row(
        name=name,
        count=count,
        material=line.of(ColumnHead.MATERIAL),
        raised=line.of(ColumnHead.RAISED),
        species=line.of(ColumnHead.SPECIES),
        notes=line.of(ColumnHead.NOTE),
        others=line.unread,
        ragged=False,
    )
    entry = row_entry(BoxEntry(line.at + 1, line.text, What.OUT), row, _HEADS, around.covered)
    if entry.count is not None and not 1 <= entry.count <= MOST_PLANTS_A_LINE:
        return replace(entry, what=What.OUT, fault="count")
    return entry
