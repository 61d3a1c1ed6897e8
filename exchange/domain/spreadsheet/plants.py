"""Rows of stock, spares and claims: the cells read as the box reads a table, then whose, which and when."""

from dataclasses import replace

from exchange.domain.growing.batch import Material
from exchange.domain.growing.names import one_line
from exchange.domain.sharing.box.entry import MOST_PLANTS_A_LINE, BoxDoubt, BoxEntry, What
from exchange.domain.sharing.box.entry import Why as BoxWhy
from exchange.domain.sharing.box.rows import row_entry
from exchange.domain.sharing.box.tables import Column, Heads, Row
from exchange.domain.spreadsheet.cells import is_mark
from exchange.domain.spreadsheet.choices import LEFT_OUT, Kind
from exchange.domain.spreadsheet.entry import Line, questioned
from exchange.domain.spreadsheet.heads import Head
from exchange.domain.spreadsheet.plant_fields import Around, Fields
from exchange.domain.spreadsheet.row import Doubt, RowRead, State, Why

_DOUBTS = {
    BoxDoubt.WHAT: Doubt.WHAT,
    BoxDoubt.COUNT: Doubt.COUNT,
    BoxDoubt.MATERIAL: Doubt.MATERIAL,
    BoxDoubt.RAISED: Doubt.RAISED,
    BoxDoubt.NAME: Doubt.NAME,
}
_WHYS = {
    BoxWhy.NONE_LEFT: Why.NONE_LEFT,
    BoxWhy.PROMISED: Why.PROMISED,
    BoxWhy.HEADING: Why.TOTAL,
    BoxWhy.UNCERTAIN: Why.UNCERTAIN,
}
_FAULTS = {"no name": Why.NO_NAME, "count": Why.COUNT, "too long": Why.TOO_LONG}
_OF_A_CLAIM = frozenset({Doubt.MATERIAL, Doubt.RAISED})
_HEADS = Heads("", (Column.NAME, Column.COUNT), ("", ""))


def plant_row(row: RowRead, line: Line, around: Around, cells: tuple[str, str, str]) -> RowRead:
    """Read a row of plants, or one cell of a cross-table.

    Parameters
    ----------
    cells : the name of the variety, the number and whose it is, as they are written
    """
    kind, (name, count, whose) = row.kind.of_a_row, cells
    entry = _entry(line, around, name, _counted(line, kind, count))
    if entry.fault:
        return replace(row, state=State.REFUSED, why=_FAULTS[entry.fault])
    why = _WHYS.get(entry.why, Why.UNCERTAIN) if entry.why else Why.UNCERTAIN
    if entry.what is What.OUT:
        return replace(row, state=State.OUT, why=why)
    fields = Fields(line, around, {_DOUBTS[one] for one in entry.doubts if one in _DOUBTS}, {})
    fields.count(entry)
    fields.material(entry)
    fields.raised(entry)
    fields.name(name, entry)
    fields.whose(whose)
    if kind is Kind.CLAIMS:
        fields.choice()
        fields.doubts -= _OF_A_CLAIM
    if kind is Kind.SPARES:
        fields.day(Head.READY_FROM, Doubt.READY_FROM, line.choices.ready_from)
        fields.day(Head.SEND_BY, Doubt.SEND_BY, line.choices.send_by)
        fields.said["note"] = one_line(line.of(Head.NOTE))
    return _kept(row, line, fields, why)


def _kept(row: RowRead, line: Line, fields: Fields, why: Why) -> RowRead:
    if Doubt.WHAT in fields.doubts:
        fields.doubts.discard(Doubt.WHAT)
        row = questioned(row, line, why)
    row = replace(row, said=fields.said, doubts=row.doubts | fields.doubts)
    if LEFT_OUT in {fields.said.get("variety"), fields.said.get("whose")}:
        return replace(row, state=State.OUT, why=Why.CHOSEN)
    if row.kind.of_a_row is not Kind.CLAIMS and fields.said.get("material") == Material.SEED:
        return replace(row, state=State.REFUSED, why=Why.SEED)
    whose = fields.said["whose"]
    if whose and not fields.around.people.has_place(whose):
        return replace(row, state=State.REFUSED, why=Why.NO_PLACE)
    return row


def _counted(line: Line, kind: Kind, count: str) -> str:
    """Give the cell of the number: a mark is what was said it means; a claim without such a column is one plant."""
    if is_mark(count) and line.choices.mark_means:
        return str(line.choices.mark_means)
    if kind is Kind.CLAIMS and not count and not line.has(Head.COUNT) and not line.is_across:
        return "1"
    return count


def _entry(line: Line, around: Around, name: str, count: str) -> BoxEntry:
    row = Row(
        name=name,
        count=count,
        material=line.of(Head.MATERIAL),
        raised=line.of(Head.RAISED),
        species=line.of(Head.SPECIES),
        notes=line.of(Head.NOTE),
        others=line.unread,
        ragged=False,
    )
    entry = row_entry(BoxEntry(line.at + 1, line.text, What.OUT), row, _HEADS, around.covered)
    if entry.count is not None and not 1 <= entry.count <= MOST_PLANTS_A_LINE:
        return replace(entry, what=What.OUT, fault="count")
    return entry
