"""Everything of one circle as one JSON file, and a circle from such a file."""

import json
import os
from collections.abc import Mapping
from contextlib import suppress
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path
from typing import Any, BinaryIO

from exchange.actions.kernel.actor import Actor, House, circle_of
from exchange.actions.kernel.refusals import RefusedError
from exchange.domain.permissions import Permission
from exchange.records import upgrade
from exchange.records.whole_circle import (
    NotEmptyError,
    PlainTables,
    RowRefusedError,
    all_rows,
    put_back,
)

FORMAT, FORM = "growers-circle", 1


class ExportRefusedError(RefusedError):
    """The circle cannot be written; the sentence says why."""


class ImportRefusedError(RefusedError):
    """The file cannot be taken in; the sentence says why. Nothing of it was kept."""


@dataclass(frozen=True, slots=True)
class CircleMoved:
    """A circle that was written or taken in, and how many rows of it."""

    circle: str
    rows: int


def export_circle(actor: Actor, target: Path | BinaryIO, now: datetime) -> CircleMoved:
    """Write everything of the actor's circle, as it stands at one moment.

    Parameters
    ----------
    target : a file that is not there yet, or a stream
    now : the machine's

    Raises
    ------
    ExportRefusedError
        When it cannot be written; nothing of it is left.
    """
    actor.must(Permission.RUN_CIRCLE)
    with actor.books.reading() as tx:
        name = circle_of(actor, tx).name
        tables = all_rows(tx, actor.circle_id)
    whole = {
        "format": FORMAT,
        "form": FORM,
        "revision": upgrade.newest(),
        "made_at": now.astimezone(UTC).isoformat(),
        "circle": name,
        "tables": tables,
    }
    text = json.dumps(whole, ensure_ascii=False, allow_nan=False, indent=1)
    _write(target, text.encode() + b"\n")
    return CircleMoved(name, _count(tables))


def _write(target: Path | BinaryIO, content: bytes) -> None:
    if not isinstance(target, Path):
        target.write(content)
        target.flush()
        return
    try:
        descriptor = os.open(target, os.O_CREAT | os.O_EXCL | os.O_WRONLY, 0o600)
    except FileExistsError as error:
        raise ExportRefusedError(
            f"There is a file {target} already; it is left as it is."
        ) from error
    except OSError as error:
        raise ExportRefusedError(f"The file cannot be written: {error}.") from error
    try:
        with os.fdopen(descriptor, "wb") as file:
            file.write(content)
            file.flush()
            os.fsync(file.fileno())
    except OSError as error:
        with suppress(OSError):
            target.unlink()
        raise ExportRefusedError(
            f"The file cannot be written: {error}. Nothing of it is left."
        ) from error


def import_circle(house: House, source: Path | BinaryIO) -> CircleMoved:
    """Take a circle from a file into records that hold nothing yet, and bring them up to date.

    Raises
    ------
    ImportRefusedError
    """
    try:
        content = source.read_bytes() if isinstance(source, Path) else source.read()
    except OSError as error:
        raise ImportRefusedError(f"The file cannot be read: {error}.") from error
    whole = _whole(content)
    _prepare(house, whole["revision"])
    try:
        put_back(house.books, whole["tables"])
    except NotEmptyError as error:
        raise ImportRefusedError(
            "The records hold something already. A circle is taken in only where there is nothing"
            " yet: name a new folder, or an empty database."
        ) from error
    except RowRefusedError as error:
        raise ImportRefusedError(
            f"The file does not fit the records: {error}. Nothing of it was kept."
        ) from error
    upgrade.upgrade(house.books)
    return CircleMoved(whole["circle"], _count(whole["tables"]))


def _whole(content: bytes) -> Mapping[str, Any]:
    try:
        whole = json.loads(content)
    except ValueError as error:
        raise ImportRefusedError(f"The file is not JSON: {error}.") from error
    if not isinstance(whole, dict) or whole.get("format") != FORMAT:
        raise ImportRefusedError("The file does not hold a circle; see docs/circle_file.md.")
    tables = whole.get("tables")
    if whole.get("form") != FORM or not upgrade.knows(str(whole.get("revision"))):
        raise ImportRefusedError("The file was written by a newer version of the program.")
    if not isinstance(tables, dict) or not all(map(_holds_rows, tables.values())):
        raise ImportRefusedError("The file is not whole: its tables are missing or are no lists.")
    circles = tables.get("circle", [])
    if [one.get("name") for one in circles] != [whole.get("circle")]:
        raise ImportRefusedError("The file does not hold exactly the one circle that it names.")
    return whole


def _holds_rows(rows: Any) -> bool:
    return isinstance(rows, list) and all(isinstance(one, dict) for one in rows)


def _prepare(house: House, revision: str) -> None:
    """Give an empty database the shape the rows had."""
    here = upgrade.revision(house.books)
    if here is None:
        upgrade.upgrade(house.books, revision)
    elif here != revision:
        raise ImportRefusedError(
            f"The records are at version {here} and the file is of version {revision}. Name a new"
            " folder, or an empty database."
        )


def _count(tables: PlainTables) -> int:
    return sum(map(len, tables.values()))
