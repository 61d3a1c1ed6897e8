"""A row of a table, made an entry: each cell is read by itself and answers for its own field."""

import re
from dataclasses import replace

from exchange.domain.growing.batch import Material, Raised
from exchange.domain.growing.names import fold
from exchange.domain.growing.variety import Species
from exchange.domain.sharing.box import doubts as words
from exchange.domain.sharing.box.entry import BoxDoubt, BoxEntry, What, Why
from exchange.domain.sharing.box.names import Names, cover
from exchange.domain.sharing.box.numbers import numbers_in
from exchange.domain.sharing.box.other_words import harmless
from exchange.domain.sharing.box.phrase import read_phrase
from exchange.domain.sharing.box.plant_words import raised_of, species_of
from exchange.domain.sharing.box.tables import Heads, Row

_PIECES = re.compile(r"\s*(?:pcs\.?|pieces|plants?|st\.?|stk\.?)$", re.IGNORECASE)
_SPOKEN = re.compile(r"promised|reserved|taken|given|wanted|for whom|sold", re.IGNORECASE)


def row_entry(blank: BoxEntry, row: Row, heads: Heads, names: Names) -> BoxEntry:
    """Make an entry of a row under headings.

    Parameters
    ----------
    blank : number and text of the line
    """
    blank = replace(blank, named=True)
    if row.total:
        return replace(blank, why=Why.HEADING)
    if not row.name:
        return replace(blank, fault="no name")
    covered = cover(row.name, names)
    phrase = read_phrase(covered)
    if not phrase.name:
        return replace(blank, fault="no name")
    doubts: set[BoxDoubt] = set()
    count, sure_of_count, none = _count(row.count)
    if none:
        return replace(blank, name=row.name, why=Why.NONE_LEFT)
    if re.fullmatch(r"[-–—?.]+", row.count):
        doubts.add(BoxDoubt.WHAT)
    if not sure_of_count or heads.two_counts or row.ragged or phrase.numbers:
        doubts.add(BoxDoubt.COUNT)
    material, sure_of_material = _material(row.material, phrase.material, names)
    if not sure_of_material or row.ragged:
        doubts.add(BoxDoubt.MATERIAL)
    raised, sure_of_raising = _raised(row, names)
    if not sure_of_raising:
        doubts.add(BoxDoubt.RAISED)
    whole = fold(row.name) in names.folded or not (
        phrase.numbers or phrase.rest or phrase.said_material
    )
    entry = replace(
        blank,
        what=What.SPARE,
        count=count,
        material=material,
        species=_species(row.species) or phrase.species,
        raised=raised,
        name=row.name.strip(" '\"‘’“”") if whole and not phrase.species else phrase.name,
        says_material=bool(row.material) or phrase.said_material,
        rest=" ".join(one for one in (phrase.rest, row.notes) if one),
        doubts=frozenset(doubts | (set() if whole else {BoxDoubt.NAME})),
    )
    return _questioned(entry, row, covered.text)


def _questioned(entry: BoxEntry, row: Row, name: str) -> BoxEntry:
    said = " ; ".join([name, row.notes, *(cell for _head, cell in row.others)])
    spoken = any(_SPOKEN.search(head) for head, _cell in row.others)
    more = {BoxDoubt.WHAT, BoxDoubt.COUNT}
    if words.promised(said) or words.perhaps_promised(said) or spoken:
        return replace(entry, why=Why.PROMISED, doubts=entry.doubts | more)
    plain = harmless(row.notes) and all(
        harmless(cell) or not any(one.isalpha() for one in cell) for _head, cell in row.others
    )
    noted = numbers_in(row.notes)
    if words.says_no(said) or words.uncertain(said) or noted or not plain:
        return replace(entry, why=Why.UNCERTAIN, doubts=entry.doubts | more)
    return entry


def _count(cell: str) -> tuple[int | None, bool, bool]:
    """Give the number of a cell, whether it is sure, and whether the cell says that there are none."""
    cell = _PIECES.sub("", cell.strip())
    if re.fullmatch(r"none|nil|no|0|zero|nothing|all gone|sold out", cell, re.IGNORECASE):
        return None, True, True
    found = numbers_in(cell)
    if len(found) != 1:
        return None, False, False
    (only,) = found
    return only.value, only.sure and (only.start, only.end) == (0, len(cell)), False


def _material(cell: str, in_name: Material | None, names: Names) -> tuple[Material | None, bool]:
    if not cell:
        return in_name, in_name is not None
    phrase = read_phrase(cover(cell, names))
    odd = phrase.numbers or phrase.name or phrase.rest or (in_name and in_name != phrase.material)
    return (
        phrase.material,
        phrase.material is not None and not odd and BoxDoubt.MATERIAL not in phrase.doubts,
    )


def _raised(row: Row, names: Names) -> tuple[Raised | None, bool]:
    if row.raised:
        said = raised_of(row.raised.strip(), alone=True)
        return (said[0], said[0] is not None) if said else (None, False)
    phrase = read_phrase(cover(f"{row.notes}; {row.material}", names))
    return phrase.raised, BoxDoubt.RAISED not in phrase.doubts


def _species(cell: str) -> Species | None:
    return species_of(cell.strip())
