"""Restoring: a data folder set up from a backup, brought to the newest shape of the records."""

import re
import shutil
import tomllib
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from tempfile import mkdtemp
from typing import BinaryIO
from zipfile import BadZipFile, ZipFile

from exchange.actions.circle.backup import SECRETS, SETTINGS
from exchange.actions.circle.erasures import (
    DAILY,
    ERASURES,
    Erasure,
    erase_again,
    read_erasures,
    write_erasures,
)
from exchange.actions.kernel.refusals import RefusedError
from exchange.records import Books, backup_file, circles, upgrade
from exchange.records.backup_file import DATABASE, BackupAbout
from exchange.records.copies import fault_in

SETTINGS_THEN = "settings-then.toml"
"""Settings that name another database, and so would lead away from what is restored."""
SECRET = re.compile(rf"{SECRETS}/[a-z_]+")


class RestoreRefusedError(RefusedError):
    """The backup cannot be restored; the sentence says why. Nothing was changed."""


@dataclass(frozen=True, slots=True)
class Restored:
    """What came of restoring.

    Attributes
    ----------
    circles : their names
    erased : members erased again, since they were after the backup was made
    made_at : when the backup was made [UTC]
    secrets : whether the secrets came with it
    settings_then : whether its settings cannot be used here, and so lie beside as SETTINGS_THEN
    """

    circles: tuple[str, ...]
    made_at: datetime
    revision: str
    newest: str
    secrets: bool
    settings_then: bool
    erased: int = 0


def restore(source: Path | BinaryIO, folder: Path, erasures: Path | None = None) -> Restored:
    """Set up an empty or new data folder from a backup; all of it or nothing.

    Parameters
    ----------
    erasures : the list of members erased; None for the one that lies beside the backup

    Raises
    ------
    RestoreRefusedError
    """
    try:
        later = _erasures(source, erasures)
        with _empty_folder(folder) as work:
            return _restore(_as_file(source, work), folder, work, later)
    except backup_file.NoBackupError as error:
        raise RestoreRefusedError(
            "This is not a backup that this version of the program can read."
        ) from error
    except (backup_file.DamagedBackupError, BadZipFile) as error:
        raise RestoreRefusedError(
            "The backup is damaged: it was cut short or changed after it was written. Take another."
        ) from error
    except OSError as error:
        raise RestoreRefusedError(
            f"The backup cannot be restored: {error}. Nothing of it is left in the folder."
        ) from error


@contextmanager
def _empty_folder(folder: Path) -> Iterator[Path]:
    """Give a folder to work in within one that is empty or new; all is taken away on failure."""
    made = not folder.exists()
    if not made and (not folder.is_dir() or any(folder.iterdir())):
        raise RestoreRefusedError(
            f"{folder} is not empty, and nothing in it is overwritten. Name a new folder:"
            " exchange --folder NEW restore FILE"
        )
    folder.mkdir(mode=0o700, parents=True, exist_ok=True)
    try:
        work = Path(mkdtemp(prefix=".restoring-", dir=folder))
        try:
            yield work
        finally:
            shutil.rmtree(work, ignore_errors=True)
    except BaseException:
        if made:
            with suppress(OSError):
                folder.rmdir()
        raise


def _as_file(source: Path | BinaryIO, work: Path) -> Path:
    if isinstance(source, Path):
        return source
    file = work / "backup"
    with file.open("xb") as written:
        shutil.copyfileobj(source, written)
    return file


def _erasures(source: Path | BinaryIO, named: Path | None) -> set[Erasure]:
    """Read the list of members erased; one that is named has to be there."""
    if named is not None and not named.is_file():
        raise RestoreRefusedError(f"There is no file {named}.")
    file = named or (source.parent / ERASURES if isinstance(source, Path) else None)
    try:
        return read_erasures(file) if file else set()
    except ValueError as error:
        raise RestoreRefusedError(f"{error}. Nothing was restored.") from error


def _restore(file: Path, folder: Path, work: Path, later: set[Erasure]) -> Restored:
    with backup_file.opened_backup(file) as (about, packed):
        if not upgrade.knows(about.revision):
            raise RestoreRefusedError(
                f"The backup was made by a newer version of the program: its records are at"
                f" version {about.revision}, and this one knows them up to {upgrade.newest()}."
            )
        names = _unpacked(packed, work)
    fault = fault_in(work / DATABASE)
    if fault:
        raise RestoreRefusedError(f"The records in the backup are not sound: {fault}.")
    restored = _brought_up_to_date(work / DATABASE, about, names, later)
    if later:
        write_erasures(work / DAILY / ERASURES, later)
        names.insert(0, DAILY)
    for name in names:
        (work / name).rename(folder / name)
    return restored


def _unpacked(packed: ZipFile, work: Path) -> list[str]:
    """Unpack what a backup may hold; give what is to be moved, the records last."""
    if DATABASE not in packed.namelist():
        raise backup_file.NoBackupError
    (work / SECRETS).mkdir(mode=0o700)
    for name in packed.namelist():
        if name in (DATABASE, SETTINGS) or SECRET.fullmatch(name):
            backup_file.unpack(packed, name, work / name)
    settings = work / SETTINGS
    if settings.exists() and _names_database(settings):
        settings.rename(work / SETTINGS_THEN)
    if not any((work / SECRETS).iterdir()):
        (work / SECRETS).rmdir()
    return [name for name in (SECRETS, SETTINGS, SETTINGS_THEN, DATABASE) if (work / name).exists()]


def _names_database(settings: Path) -> bool:
    """Say so also of a file that cannot be read: the program would not start with it."""
    try:
        return "database_url" in tomllib.loads(settings.read_text("utf-8"))
    except (tomllib.TOMLDecodeError, UnicodeDecodeError):
        return True


def _brought_up_to_date(
    database: Path, about: BackupAbout, names: list[str], later: set[Erasure]
) -> Restored:
    books = Books(f"sqlite:///{database}")
    try:
        upgrade.upgrade(books)
        with books.writing() as tx:
            erased = erase_again(tx, later)
            found = tuple(one.name for one in circles.everyone(tx))
    finally:
        books.close()
    return Restored(
        circles=found,
        made_at=about.made,
        revision=about.revision,
        newest=upgrade.newest(),
        secrets=SECRETS in names,
        settings_then=SETTINGS_THEN in names,
        erased=erased,
    )
