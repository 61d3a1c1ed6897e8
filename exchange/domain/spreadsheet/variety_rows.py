"""Rows of varieties: the name, the kind of plant, how it keeps."""

from dataclasses import replace

from exchange.domain.growing.names import fold, one_line
from exchange.domain.growing.variety import Keeps, Species
from exchange.domain.sharing.box.names import cover
from exchange.domain.sharing.box.phrase import read_phrase
from exchange.domain.sharing.box.plant_words import species_of
from exchange.domain.spreadsheet.choices import LEFT_OUT, NEW
from exchange.domain.spreadsheet.entry import Line, questioned
from exchange.domain.spreadsheet.heads import Head
from exchange.domain.spreadsheet.plant_fields import Around
from exchange.domain.spreadsheet.row import Doubt, RowRead, State, Why

_KEEPS = {
    "well": Keeps.WELL, "good": Keeps.WELL, "easy": Keeps.WELL, "keeps well": Keeps.WELL,
    "fairly": Keeps.FAIRLY, "fair": Keeps.FAIRLY, "keeps fairly": Keeps.FAIRLY,
    "badly": Keeps.BADLY, "bad": Keeps.BADLY, "poor": Keeps.BADLY, "poorly": Keeps.BADLY, "keeps badly": Keeps.BADLY,
}  # fmt: skip


def variety_row(row: RowRead, line: Line, around: Around) -> RowRead:
    """Read a row of varieties."""
    written = line.of(Head.NAME)
    if not any(sign.isalpha() for sign in fold(written)):
        return replace(row, state=State.REFUSED, why=Why.NO_NAME)
    covered = cover(written, around.covered)
    phrase = read_phrase(covered)
    plain = fold(written) in around.covered.folded or not (
        phrase.numbers or phrase.rest or phrase.said_material or phrase.names > 1
    )
    species, kind_said = _species(line, phrase.species), bool(line.of(Head.SPECIES))
    name = phrase.name if phrase.species and phrase.name else one_line(written).strip("'\"‘’“” ")
    found = around.names.find(
        written, name, species, sure=plain and not (kind_said and species is None)
    )
    said = {"written": written, "name": found.name, "variety": found.meant}
    doubts: set[Doubt] = set()
    if species:
        said["species"] = species.value
    if not found.meant:
        doubts.add(Doubt.NAME)
    _keep_keeps(said, doubts, line)
    row = replace(row, said=said, doubts=row.doubts | doubts)
    if found.meant == LEFT_OUT:
        return replace(row, state=State.OUT, why=Why.CHOSEN)
    if found.meant and not found.meant.startswith(f"{NEW}:"):
        there = around.names.by_id[found.meant]
        other = said.get("keeps") not in {None, there.keeps.value}
        if other:
            return questioned(row, line, Why.LIKE_ANOTHER)
        return replace(row, state=State.THERE, why=Why.STANDS, doubts=frozenset())
    return row


def _species(line: Line, in_name: Species | None) -> Species | None:
    cell = line.of(Head.SPECIES).strip()
    return species_of(cell) if cell else in_name or line.choices.species


def _keep_keeps(said: dict[str, str], doubts: set[Doubt], line: Line) -> None:
    cell = (line.answers.get("keeps", "") or line.of(Head.KEEPS)).strip().casefold()
    if not cell:
        return
    read = _KEEPS.get(cell)
    if read is None:
        doubts.add(Doubt.KEEPS)
    else:
        said["keeps"] = read.value
