"""Rows of varieties: the name, the kind of plant, how it keeps."""

from dataclasses import replace

from exchange.domain.growing.names import fold, one_line
from exchange.domain.growing.variety import Keeps, Species
from exchange.domain.sharing.box.names import cover
from exchange.domain.sharing.box.other_words import odd_name
from exchange.domain.sharing.box.phrase import read_phrase
from exchange.domain.sharing.box.plant_words import species_of
from exchange.domain.spreadsheet.choices import LEFT_OUT, NEW
from exchange.domain.spreadsheet.entry import SheetLine, questioned
from exchange.domain.spreadsheet.heads import ColumnHead
from exchange.domain.spreadsheet.plant_fields import ReadBeside
from exchange.domain.spreadsheet.row import RowDoubt, RowRead, RowState, RowWhy

_KEEPS = {
    "well": Keeps.WELL, "good": Keeps.WELL, "easy": Keeps.WELL, "keeps well": Keeps.WELL,
    "fairly": Keeps.FAIRLY, "fair": Keeps.FAIRLY, "keeps fairly": Keeps.FAIRLY,
    "badly": Keeps.BADLY, "bad": Keeps.BADLY, "poor": Keeps.BADLY, "poorly": Keeps.BADLY, "keeps badly": Keeps.BADLY,
}  # fmt: skip


def variety_row(row: RowRead, line: SheetLine, around: ReadBeside) -> RowRead:
    """Read a row of varieties."""
    written = line.of(ColumnHead.NAME)
    if not any(sign.isalpha() for sign in fold(written)):
        return replace(row, state=RowState.REFUSED, why=RowWhy.NO_NAME)
    covered = cover(written, around.covered)
    phrase = read_phrase(covered)
    plain = fold(written) in around.covered.folded or not (
        phrase.numbers
        or phrase.rest
        or phrase.said_material
        or phrase.names > 1
        or odd_name(phrase.name, known_inside=False)
    )
    species, kind_said = _species(line, phrase.species), bool(line.of(ColumnHead.SPECIES))
    name = phrase.name if phrase.species and phrase.name else one_line(written).strip("'\"‘’“” ")
    found = around.names.find(
        written, name, species, sure=plain and not (kind_said and species is None)
    )
    said = {"written": written, "name": found.name, "variety": found.meant}
    doubts: set[RowDoubt] = set()
    if species:
        said["species"] = species.value
    if not found.meant:
        doubts.add(RowDoubt.NAME)
    _keep_keeps(said, doubts, line)
    row = replace(row, said=said, doubts=row.doubts | doubts)
    if found.meant == LEFT_OUT:
        return replace(row, state=RowState.OUT, why=RowWhy.CHOSEN)
    if found.meant and not found.meant.startswith(f"{NEW}:"):
        there = around.names.by_id[found.meant]
        other = said.get("keeps") not in {None, there.keeps.value}
        if other:
            return questioned(row, line, RowWhy.LIKE_ANOTHER)
        return replace(row, state=RowState.THERE, why=RowWhy.STANDS, doubts=frozenset())
    return row


def _species(line: SheetLine, in_name: Species | None) -> Species | None:
    cell = line.of(ColumnHead.SPECIES).strip()
    return species_of(cell) if cell else in_name or line.choices.species


def _keep_keeps(said: dict[str, str], doubts: set[RowDoubt], line: SheetLine) -> None:
    cell = (line.answers.get("keeps", "") or line.of(ColumnHead.KEEPS)).strip().casefold()
    if not cell:
        return
    read = _KEEPS.get(cell)
    if read is None:
        doubts.add(RowDoubt.KEEPS)
    else:
        said["keeps"] = read.value
