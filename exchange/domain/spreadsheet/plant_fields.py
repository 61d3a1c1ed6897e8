"""The fields of a row of plants: each is read, answered for, or asked about by itself."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

from exchange.domain.growing.batch import Material, Raised
from exchange.domain.growing.names import fold
from exchange.domain.sharing.box.entry import MOST_PLANTS_A_LINE, BoxEntry
from exchange.domain.sharing.box.names import Names as BoxNames
from exchange.domain.spreadsheet.cells import choice_in, day_in
from exchange.domain.spreadsheet.entry import SheetLine
from exchange.domain.spreadsheet.heads import ColumnHead
from exchange.domain.spreadsheet.names import FileNames
from exchange.domain.spreadsheet.people import FilePeople
from exchange.domain.spreadsheet.row import RowDoubt


@dataclass(frozen=True, slots=True)
class ReadBeside:
    """What the rows of a sheet are read beside.

    Attributes
    ----------
    covered : the circle's names, for finding them in cells
    days_first : of each column of days, whether the day stands before the month
    above : what stands above in a column, for sheets where an empty cell means the same
    """

    names: FileNames
    people: FilePeople
    covered: BoxNames
    days_first: Mapping[ColumnHead, bool | None]
    above: Mapping[ColumnHead, str]


@dataclass(slots=True)
class PlantFields:
    """What a row says so far, and what of it is in doubt."""

    line: SheetLine
    around: ReadBeside
    doubts: set[RowDoubt]
    said: dict[str, str]

    def count(self, entry: BoxEntry) -> None:
        """Keep how many plants."""
        told = self.line.answers.get("count", "")
        if told.isdecimal() and 1 <= int(told) <= MOST_PLANTS_A_LINE:
            self.said["count"] = str(int(told))
            self.doubts.discard(RowDoubt.COUNT)
        elif RowDoubt.COUNT in self.doubts or entry.count is None:
            self.doubts.add(RowDoubt.COUNT)
        else:
            self.said["count"] = str(entry.count)

    def material(self, entry: BoxEntry) -> None:
        """Keep what is sent, by the row, else as was said for the sheet."""
        told = self.line.answers.get("material", "")
        whole = self.line.choices.material
        if told in set(Material) - {Material.SEED}:
            self._settle(RowDoubt.MATERIAL, told)
        elif entry.material is not None and RowDoubt.MATERIAL not in self.doubts:
            self._settle(RowDoubt.MATERIAL, entry.material.value)
        elif whole is not None and not entry.says_material:
            self._settle(RowDoubt.MATERIAL, whole.value)
        else:
            self.doubts.add(RowDoubt.MATERIAL)

    def raised(self, entry: BoxEntry) -> None:
        """Keep how they were raised in the same way."""
        told = self.line.answers.get("raised", "")
        whole = self.line.choices.raised
        if told in set(Raised):
            self._settle(RowDoubt.RAISED, told)
        elif entry.raised is not None and RowDoubt.RAISED not in self.doubts:
            self._settle(RowDoubt.RAISED, entry.raised.value)
        elif whole is not None and RowDoubt.RAISED not in self.doubts:
            self._settle(RowDoubt.RAISED, whole.value)
        else:
            self.doubts.add(RowDoubt.RAISED)

    def _settle(self, doubt: RowDoubt, value: str) -> None:
        self.said[doubt.value] = value
        self.doubts.discard(doubt)

    def name(self, written: str, entry: BoxEntry) -> None:
        """Keep which variety it is."""
        said = bool(self.line.of(ColumnHead.SPECIES))
        species = entry.species or (None if said else self.line.choices.species)
        # A word for a kind of plant that is not known may be another kind than the one of that name.
        unsure = RowDoubt.NAME in self.doubts or (said and entry.species is None)
        self.doubts.discard(RowDoubt.NAME)
        found = self.around.names.find(written, entry.name, species, sure=not unsure)
        self.said |= {"written": written, "name": found.name, "variety": found.meant}
        if species:
            self.said["species"] = species.value
        if not found.meant:
            self.doubts.add(RowDoubt.NAME)

    def whose(self, cell: str) -> None:
        """Keep whose they are."""
        line, people = self.line, self.around.people
        told = line.answers.get("whose", "")
        if told and people.name_of(told):
            self.said["whose"] = told
            return
        if line.choices.fill_down and not cell:
            cell = self.around.above.get(ColumnHead.WHOSE, "")
        if cell or line.has(ColumnHead.WHOSE) or line.is_across:
            self.said["person"] = cell
            self.said["whose"] = people.find(cell).meant if fold(cell) else ""
        else:
            whole = line.choices.whose
            self.said["whose"] = whole if people.name_of(whole) else ""
        if not self.said["whose"]:
            self.doubts.add(RowDoubt.WHOSE)

    def choice(self) -> None:
        """Keep which choice a claim is; the first where the sheet has no such column."""
        cell = self.line.answers.get("choice", "") or self.line.of(ColumnHead.CHOICE)
        read = choice_in(cell) if cell or self.line.has(ColumnHead.CHOICE) else 1
        if read is None:
            self.doubts.add(RowDoubt.CHOICE)
        else:
            self.said["choice"] = str(read)

    def day(self, head: ColumnHead, doubt: RowDoubt, whole: date | None) -> None:
        """Keep a day, by the row, else as was said for the sheet."""
        told = self.line.answers.get(doubt.value, "")
        cell = self.line.of(head)
        day = day_in(told, days_first=None) if told else None
        if day is None:
            first = self.around.days_first.get(head)
            day = day_in(cell, days_first=first) if cell else whole
        if day is None:
            self.doubts.add(doubt)
        else:
            self.said[doubt.value] = day.isoformat()
