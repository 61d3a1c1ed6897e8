"""Spreadsheets: handed in, looked over, answered for, thrown away; nothing of them goes in here."""

import base64
import binascii
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from hashlib import sha256

from exchange.actions.circle.spreadsheet_facts import known_of
from exchange.actions.circle.spreadsheet_kept import (
    AT_ONCE,
    READ,
    SpreadsheetRefusedError,
    choices_of,
    file_here,
    merged,
)
from exchange.actions.kernel.actor import Actor, note
from exchange.actions.kernel.tasks import Watch, ask
from exchange.domain.permissions import Permission
from exchange.domain.spreadsheet.choices import FileChoices
from exchange.domain.spreadsheet.reading import FileRead, read_file
from exchange.records import SPREADSHEETS, Tx
from exchange.records.columns import to_plain
from exchange.records.rows.running import SpreadsheetRow
from exchange.sheets.any_file import MOST_BYTES, FileSheets, read_sheets
from exchange.sheets.refused_file import UnreadableFileError

LARGEST_FILE = MOST_BYTES
"""The largest file that is read [bytes]."""

KEPT_FOR = timedelta(days=60)
"""How long a file is kept that nobody has brought in or thrown away (judgement) [d]."""

LONGEST_NAME = 100


@dataclass(frozen=True, slots=True)
class HandedIn:
    """A file that was handed in.

    Attributes
    ----------
    there : whether the same file had been handed in before
    """

    id: int
    there: bool


def hand_in(actor: Actor, name: str, content: bytes, now: datetime) -> HandedIn:
    """Take a file in to be looked over; nothing of it goes in yet. The same file leads to its page.

    Raises
    ------
    SpreadsheetRefusedError
        With a sentence why it is not read.
    """
    actor.must(Permission.RUN_CIRCLE)
    cleaned = " ".join(name.split())[-LONGEST_NAME:] or "file"
    found = _sheets(cleaned, content, FileChoices())
    choices = FileChoices()
    reading = _read_at_once(actor, found, choices, now)
    with actor.books.writing() as tx:
        _forget_old(tx, actor, now)
        sha = sha256(content).hexdigest()
        there = SPREADSHEETS.find(tx, actor.circle_id, sha256=sha)
        if there is not None and there.reading is not None:
            return HandedIn(there.id, there=True)
        if there is not None:
            SPREADSHEETS.change(tx, actor.circle_id, there.id, content=_packed(content))
            _keep(tx, actor, there.id, choices, reading, now)
            return HandedIn(there.id, there=True)
        file_id = SPREADSHEETS.add(
            tx, actor.circle_id, name=cleaned, sha256=sha, content=_packed(content),
            choices={}, went_in={}, made={}, handed_in_by=actor.member_id, handed_in_at=now,
        )  # fmt: skip
        _keep(tx, actor, file_id, choices, reading, now)
        note(tx, actor, "handed a spreadsheet in", cleaned, now)
    return HandedIn(file_id, there=False)


def answer(actor: Actor, file_id: int, said: FileChoices, now: datetime) -> None:
    """Keep what was said of a file, and read it again so; nothing of it goes in."""
    actor.must(Permission.RUN_CIRCLE)
    with actor.books.reading() as tx:
        file = file_here(tx, actor, file_id)
    choices = merged(choices_of(file), said)
    found = _sheets(file.name, _unpacked(file), choices)
    reading = _read_at_once(actor, found, choices, now)
    with actor.books.writing() as tx:
        file_here(tx, actor, file_id)
        _keep(tx, actor, file_id, choices, reading, now)


def read_spreadsheet(actor: Actor, file_id: int, watch: Watch, now: datetime) -> None:
    """Read a long file, as a task."""
    with actor.books.reading() as tx:
        file = file_here(tx, actor, file_id)
        known = known_of(tx, actor, now)
    choices = choices_of(file)
    found = _sheets(file.name, _unpacked(file), choices)

    def far(share: float) -> None:
        watch.go_on("reading the rows", share)

    reading = _told(read_file(found.sheets, choices, known, far), found)
    with actor.books.writing() as tx:
        file_here(tx, actor, file_id)
        SPREADSHEETS.change(tx, actor.circle_id, file_id, reading=to_plain(reading))


def throw_away(actor: Actor, file_id: int, now: datetime) -> None:
    """Throw a file away; what went in of it stays, and the same rows are still known again."""
    actor.must(Permission.RUN_CIRCLE)
    with actor.books.writing() as tx:
        file = file_here(tx, actor, file_id)
        _forget(tx, actor, file)
        note(tx, actor, "threw a spreadsheet away", file.name, now)


def _forget(tx: Tx, actor: Actor, file: SpreadsheetRow) -> None:
    if file.went_in:
        SPREADSHEETS.change(tx, actor.circle_id, file.id, content="", choices={}, reading=None)
    else:
        SPREADSHEETS.remove(tx, actor.circle_id, file.id)


def _forget_old(tx: Tx, actor: Actor, now: datetime) -> None:
    for one in SPREADSHEETS.all(tx, actor.circle_id):
        if one.content and one.handed_in_at < now - KEPT_FOR:
            _forget(tx, actor, one)


def _read_at_once(
    actor: Actor, found: FileSheets, choices: FileChoices, now: datetime
) -> FileRead | None:
    """Read a short file beside what stands in the circle; None for a long one."""
    if sum(one.filled() for one in found.sheets) > AT_ONCE:
        return None
    with actor.books.reading() as tx:
        known = known_of(tx, actor, now)
    return _told(read_file(found.sheets, choices, known), found)


def _told(reading: FileRead, found: FileSheets) -> FileRead:
    """Say with a reading how the file was taken."""
    return replace(reading, encoding=found.encoding, delimiter=found.delimiter, sure=found.sure)


def _keep(
    tx: Tx,
    actor: Actor,
    file_id: int,
    choices: FileChoices,
    reading: FileRead | None,
    now: datetime,
) -> None:
    plain = to_plain(reading) if reading else None
    SPREADSHEETS.change(tx, actor.circle_id, file_id, choices=to_plain(choices), reading=plain)
    if reading is None:
        ask(tx, actor, READ, file_id, now)


def _sheets(name: str, content: bytes, choices: FileChoices) -> FileSheets:
    try:
        return read_sheets(name, content, choices.encoding, choices.delimiter)
    except UnreadableFileError as refused:
        raise SpreadsheetRefusedError(str(refused), "file") from refused


def _packed(content: bytes) -> str:
    return base64.b64encode(content).decode("ascii")


def _unpacked(file: SpreadsheetRow) -> bytes:
    try:
        content = base64.b64decode(file.content, validate=True)
    except binascii.Error:
        content = b""
    if not content:
        raise SpreadsheetRefusedError("This file was thrown away. Hand it in again.")
    return content
