"""What the pages of spreadsheets read: the files handed in, and one as it was understood."""

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime

from exchange.actions.circle.spreadsheet_facts import town_reader
from exchange.actions.circle.spreadsheet_kept import (
    BRING,
    READ,
    choices_of,
    file_here,
    reading_of,
    ready_in,
    ready_version,
)
from exchange.actions.kernel.actor import Actor, circle_of
from exchange.domain.permissions import Permission
from exchange.domain.spreadsheet.choices import FileChoices, RowKind
from exchange.domain.spreadsheet.reading import FileRead
from exchange.domain.spreadsheet.row import RowDoubt, RowRead, RowState
from exchange.records import SPREADSHEETS, TASKS
from exchange.records.rows.running import UNDER_WAY, TaskRow

_FOR_ALL = frozenset(
    {
        RowDoubt.MATERIAL,
        RowDoubt.RAISED,
        RowDoubt.READY_FROM,
        RowDoubt.SEND_BY,
        RowDoubt.WHOSE,
        RowDoubt.NAME,
    }
)


@dataclass(frozen=True, slots=True)
class FileLine:
    """A file in the list of those handed in."""

    id: int
    name: str
    handed_in_at: datetime
    went_in: int
    waits: int


@dataclass(frozen=True, slots=True)
class FilePage:
    """A file as it was understood.

    Attributes
    ----------
    reading : None while it is being read, or once it was thrown away
    task : what is under way with it, or failed last
    version : of the rows that are ready
    went_in : keys of the rows that are in
    kept : whether the file itself is still here
    towns : those that may be meant by a town in doubt [as written -> key, name]
    """

    id: int
    name: str
    choices: FileChoices
    reading: FileRead | None
    task: TaskRow | None
    ready: tuple[RowRead, ...]
    version: str
    went_in: frozenset[str]
    brought_in_at: datetime | None
    kept: bool
    towns: Mapping[str, tuple[tuple[str, str], ...]]

    @property
    def waiting(self) -> tuple[RowRead, ...]:
        """Give the rows with something the matter, in the order of the file."""
        return self._those(RowState.ASKED, RowState.REFUSED)

    @property
    def out(self) -> tuple[RowRead, ...]:
        """Give the rows that are left out."""
        return self._those(RowState.OUT)

    @property
    def there(self) -> tuple[RowRead, ...]:
        """Give the rows that stand in the circle already."""
        return self._those(RowState.THERE)

    def _those(self, *states: RowState) -> tuple[RowRead, ...]:
        rows = self.reading.rows if self.reading else ()
        return tuple(one for one in rows if one.state in states and one.key not in self.went_in)

    def counts(self) -> tuple[tuple[RowKind, int], ...]:
        """Count the rows that are ready, by what they are."""
        found = Counter(one.kind.of_a_row for one in self.ready)
        return tuple((kind, found[kind]) for kind in RowKind if found[kind])

    def new_names(self) -> tuple[str, ...]:
        """Give the names of varieties that would be new."""
        names = (one.said["name"] for one in self.ready if one.said.get("variety", "").startswith("new:"))  # fmt: skip
        return tuple(dict.fromkeys(names))

    def asked_of(self, row: RowRead) -> frozenset[RowDoubt]:
        """Give what is asked of a row by itself; what was not yet said for its sheet is asked there first."""
        said = self.choices.of_sheet(row.sheet)
        of_sheet = {
            RowDoubt.RAISED: said.raised,
            RowDoubt.READY_FROM: said.ready_from,
            RowDoubt.SEND_BY: said.send_by,
        }
        return frozenset(one for one in row.doubts if one not in of_sheet or of_sheet[one])

    def doubled(self, sheet: str) -> bool:
        """Say whether two columns of a sheet are taken for the same thing."""
        return RowDoubt.COLUMNS in self._lacks(sheet)

    def lacks(self, sheet: str) -> bool:
        """Say whether rows of a sheet lack what can be said for all of them."""
        return bool(self._lacks(sheet) & _FOR_ALL)

    def _lacks(self, sheet: str) -> frozenset[RowDoubt]:
        return frozenset(
            doubt for one in self.waiting if one.sheet == sheet for doubt in one.doubts
        )


def files_page(actor: Actor) -> tuple[FileLine, ...]:
    """Give the files handed in, the latest first."""
    actor.must(Permission.RUN_CIRCLE)
    with actor.books.reading() as tx:
        rows = SPREADSHEETS.all(tx, actor.circle_id)
    found = []
    for one in reversed(rows):
        there = reading_of(one).rows
        waits = sum(
            row.state in {RowState.READY, RowState.ASKED, RowState.REFUSED}
            and row.key not in one.went_in
            for row in there
        )
        found.append(FileLine(one.id, one.name, one.handed_in_at, len(one.went_in), waits))
    return tuple(found)


def file_page(actor: Actor, file_id: int) -> FilePage:
    """Give one file as it was understood."""
    actor.must(Permission.RUN_CIRCLE)
    with actor.books.reading() as tx:
        file = file_here(tx, actor, file_id)
        towns = town_reader(circle_of(actor, tx).country)
        tasks = TASKS.all(tx, actor.circle_id, kind={READ, BRING}, subject_id=file_id)
    last = tasks[-1] if tasks else None
    ready = ready_in(file)
    asked = {
        one.said["town"]: towns(one.said["town"]).towns
        for one in reading_of(file).rows
        if RowDoubt.TOWN in one.doubts
    }
    return FilePage(
        file.id,
        file.name,
        choices_of(file),
        reading_of(file) if file.reading is not None else None,
        last if last and (last.state in UNDER_WAY or last.error) else None,
        ready,
        ready_version(ready),
        frozenset(file.went_in),
        file.brought_in_at,
        bool(file.content),
        asked,
    )
