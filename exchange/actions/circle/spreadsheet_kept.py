"""A file that was handed in, as the records hold it: what was said of it, what was understood, what is ready."""

from dataclasses import replace
from hashlib import sha256

from exchange.actions.kernel.actor import Actor
from exchange.actions.kernel.refusals import RefusedError
from exchange.domain.spreadsheet.choices import FileChoices
from exchange.domain.spreadsheet.reading import FileRead
from exchange.domain.spreadsheet.row import RowRead, RowState
from exchange.records import SPREADSHEETS, Tx
from exchange.records.columns import from_plain
from exchange.records.rows.running import SpreadsheetRow

READ, BRING = "read_spreadsheet", "bring_in"
"""Kinds of task: a long file is read, and brought in, as one."""

AT_ONCE = 500
"""Up to how many rows a file is read while one waits; a longer one is read as a task (judgement) [rows]."""


class SpreadsheetRefusedError(RefusedError):
    """The file cannot be read, or is not as it was when the page was opened."""


def file_here(tx: Tx, actor: Actor, file_id: int) -> SpreadsheetRow:
    """Give a file of the circle."""
    return SPREADSHEETS.get(tx, actor.circle_id, file_id)


def choices_of(file: SpreadsheetRow) -> FileChoices:
    """Give what was said of a file."""
    return from_plain(FileChoices, file.choices) if file.choices else FileChoices()


def reading_of(file: SpreadsheetRow) -> FileRead:
    """Give what was understood of a file; nothing while it is being read."""
    return from_plain(FileRead, file.reading) if file.reading else FileRead((), ())


def ready_in(file: SpreadsheetRow) -> tuple[RowRead, ...]:
    """Give the rows that can go in."""
    rows = reading_of(file).rows
    return tuple(one for one in rows if one.state is RowState.READY and one.key not in file.went_in)


def ready_version(rows: tuple[RowRead, ...]) -> str:
    """Give a version of rows that are ready: another when one of them changes."""
    told = "\n".join(f"{one.key} {one.sha} {sorted(one.said.items())}" for one in rows)
    return sha256(told.encode()).hexdigest()[:16]


def merged(stands: FileChoices, said: FileChoices) -> FileChoices:
    """Give what was said by now: of each sheet the last, of names and rows all of it."""
    rows = {key: {**stands.rows.get(key, {}), **one} for key, one in said.rows.items()}
    return replace(
        stands,
        encoding=said.encoding or stands.encoding,
        delimiter=said.delimiter or stands.delimiter,
        sheets={**stands.sheets, **said.sheets},
        names={**stands.names, **said.names},
        people={**stands.people, **said.people},
        rows={**stands.rows, **rows},
    )
