"""Backups: all circles of the installation in one file, checked before it gets its name."""

import re
import shutil
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from tempfile import mkdtemp
from typing import BinaryIO

from exchange.actions.circle.erasures import DAILY
from exchange.actions.kernel.actor import House
from exchange.actions.kernel.refusals import RefusedError
from exchange.records import backup_file
from exchange.records.backup_file import BackupAbout
from exchange.records.copies import CopyFailedError, copy_over
from exchange.records.rows.circle import CircleRow

SECRETS, SETTINGS = "secrets", "settings.toml"
OVERDUE_AFTER = timedelta(days=2)
"""The organiser is told once the last daily backup is older (judgement) [d]."""
ENDS = re.compile(r"circle-\d{4}-\d{2}-\d{2}-ends-(\d{4}-\d{2}-\d{2})\.backup")


class BackupRefusedError(RefusedError):
    """No backup can be made; the sentence says why."""


@dataclass(frozen=True, slots=True)
class BackupMade:
    """What came of a backup."""

    revision: str
    size: int
    secrets: bool


def back_up(house: House, target: Path | BinaryIO, now: datetime, *, secrets: bool) -> BackupMade:
    """Write a backup of all circles as they stand at one moment, and read it back.

    Parameters
    ----------
    target : a file that is not there yet, or a stream
    now : the machine's
    secrets : whether the secrets and settings.toml, which may hold a password, are in it

    Raises
    ------
    BackupRefusedError
        When it cannot be written or read back; nothing of it is left.
    """
    if isinstance(target, Path) and target.exists():
        raise BackupRefusedError(f"There is a file {target} already; it is left as it is.")
    try:
        return _back_up(house, target, now, secrets=secrets)
    except (OSError, CopyFailedError) as error:
        raise BackupRefusedError(
            f"The backup cannot be written: {error}. Nothing of it is left."
        ) from error


def _back_up(house: House, target: Path | BinaryIO, now: datetime, *, secrets: bool) -> BackupMade:
    database, folder = _file_of(house), _folder_of(house)
    with _work_folder(folder) as work:
        copy_over(database, work / backup_file.DATABASE)
        contents = {backup_file.DATABASE: work / backup_file.DATABASE}
        if secrets:
            contents |= _secrets_in(folder)
        about = BackupAbout(
            backup_file.FORM,
            backup_file.revision_of(contents[backup_file.DATABASE]),
            now.astimezone(UTC).isoformat(),
            secrets,
        )
        with _draft(target, work) as draft:
            backup_file.write_backup(draft, about, contents)
            _read_back(draft, about, contents)
            size = draft.stat().st_size
            if isinstance(target, Path):
                draft.rename(target)
            else:
                with draft.open("rb") as whole:
                    shutil.copyfileobj(whole, target)
                target.flush()
    return BackupMade(about.revision, size, secrets)


def _file_of(house: House) -> Path:
    url = house.books.engine.url
    if house.books.engine.dialect.name != "sqlite" or not url.database:
        raise BackupRefusedError(
            "The records are in PostgreSQL, and this command copies a SQLite file. Use pg_dump, or"
            " exchange export for one circle, and keep a copy of the data folder with it."
        )
    return Path(url.database)


def _folder_of(house: House) -> Path:
    if house.folder is None:
        raise BackupRefusedError("There is no data folder.")
    return house.folder


@contextmanager
def _work_folder(folder: Path) -> Iterator[Path]:
    """Give a private folder for the copy within the data folder, where its like lies anyway."""
    work = Path(mkdtemp(prefix=".backup-", dir=folder))
    try:
        yield work
    finally:
        shutil.rmtree(work, ignore_errors=True)


@contextmanager
def _draft(target: Path | BinaryIO, work: Path) -> Iterator[Path]:
    """Give a name beside the target, so that the whole file takes its name at one stroke."""
    draft = work / "draft"
    if isinstance(target, Path):
        draft = target.with_name(f".{target.name}{work.name}")
    try:
        yield draft
    finally:
        with suppress(OSError):
            draft.unlink(missing_ok=True)


def _secrets_in(folder: Path) -> dict[str, Path]:
    found = {
        f"{SECRETS}/{path.name}": path
        for path in sorted((folder / SECRETS).glob("*"))
        if path.is_file() and not path.name.startswith(".")
    }
    settings = folder / SETTINGS
    return found | ({SETTINGS: settings} if settings.is_file() else {})


def _read_back(draft: Path, about: BackupAbout, contents: dict[str, Path]) -> None:
    try:
        with backup_file.opened_backup(draft) as (found, packed):
            same = found == about and all(
                backup_file.same_content(packed, name, path) for name, path in contents.items()
            )
    except (backup_file.NoBackupError, backup_file.DamagedBackupError):
        same = False
    if not same:
        raise CopyFailedError("it does not read back as it was written")


def is_backup_due(house: House, now: datetime) -> bool:
    """Say whether today's backup is wanted and not there yet; only a SQLite file has one."""
    if not house.backups_kept or house.folder is None:
        return False
    if house.books.engine.dialect.name != "sqlite":
        return False
    return not list((house.folder / DAILY).glob(f"circle-{now.date()}-ends-*.backup"))


def without_backup_since(house: House, circle: CircleRow, now: datetime) -> date | None:
    """Give the day of the last daily backup where one is overdue, or since when none was written; else None.

    A circle with a fixed day, which is a trial, has none.
    """
    wanted = bool(house.backups_kept) and house.folder is not None
    if not wanted or circle.fixed_today or house.fixed_today:
        return None
    if house.folder is None or house.books.engine.dialect.name != "sqlite":
        return None
    days = [_made(path) for path in (house.folder / DAILY).glob("circle-*.backup")]
    last = max((day for day in days if day is not None), default=circle.created_at.date())
    return last if now.date() - last > OVERDUE_AFTER else None


def _made(path: Path) -> date | None:
    """Give the day in a daily backup's name."""
    return date.fromisoformat(path.name[7:17]) if ENDS.fullmatch(path.name) else None


def keep_daily_backup(house: House, now: datetime) -> str:
    """Write today's backup, named with the day it ends, then remove those that have ended.

    Nothing is removed before the new one has been read back, and nothing that is named otherwise.

    Raises
    ------
    BackupRefusedError
        When it cannot be written; the older ones stay.
    """
    today = now.date()
    if not is_backup_due(house, now):
        return "none is wanted, or there is one of today"
    folder = _folder_of(house) / DAILY
    try:
        folder.mkdir(mode=0o700, exist_ok=True)
    except OSError as error:
        raise BackupRefusedError(f"The folder of backups cannot be made: {error}.") from error
    name = f"circle-{today}-ends-{today + timedelta(days=house.backups_kept)}.backup"
    back_up(house, folder / name, now, secrets=True)
    removed = _remove_ended(folder, today, house.backups_kept)
    return f"{name} written, {removed} removed"


def _remove_ended(folder: Path, today: date, kept: int) -> int:
    """Remove backups whose day has come, and the oldest of more than are kept."""
    ours = sorted(path for path in folder.iterdir() if ENDS.fullmatch(path.name))
    ended = {path for path in ours if _ends(path) <= today} | set(ours[:-kept])
    for path in ended:
        path.unlink()
    return len(ended)


def _ends(path: Path) -> date:
    found = ENDS.fullmatch(path.name)
    return date.fromisoformat(found[1]) if found else date.max
