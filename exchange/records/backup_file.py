"""A backup in one file: a zip file with a seal at its end, by which every damaged byte is noticed."""

import json
import os
import sqlite3
from collections.abc import Iterator, Mapping
from contextlib import closing, contextmanager
from dataclasses import asdict, dataclass
from datetime import datetime
from hashlib import sha256
from pathlib import Path
from typing import BinaryIO
from zipfile import ZIP_DEFLATED, ZIP_STORED, ZipFile, ZipInfo

FORM = 1
"""The form of the file; a later program reads earlier forms."""
ABOUT, DATABASE = "about.json", "circle.sqlite"
_SEAL = 64
"""Length of the seal: SHA-256 of all that stands before it, in hexadecimal [bytes]."""
_PIECE = 1 << 20


class NoBackupError(Exception):
    """The file is no backup of this program."""


class DamagedBackupError(Exception):
    """The file was a backup, and is not what was written."""


@dataclass(frozen=True, slots=True)
class BackupAbout:
    """What a backup says of itself, first in the file.

    Attributes
    ----------
    form : of the file
    revision : of the records in it
    made_at : ISO 8601, UTC
    secrets : whether the secrets and settings.toml are in it
    """

    form: int
    revision: str
    made_at: str
    secrets: bool

    @property
    def made(self) -> datetime:
        return datetime.fromisoformat(self.made_at)


def write_backup(file: Path, about: BackupAbout, contents: Mapping[str, Path]) -> None:
    """Write a new file, private to its owner, with files under the names they have in the backup.

    Raises
    ------
    OSError
        When it cannot be written.
    """
    descriptor = os.open(file, os.O_CREAT | os.O_EXCL | os.O_RDWR, 0o600)
    with os.fdopen(descriptor, "w+b") as raw:
        with ZipFile(raw, "w", ZIP_DEFLATED, strict_timestamps=False) as packed:
            packed.comment = b"0" * _SEAL
            # First and not compressed: the file is known by its first bytes.
            packed.writestr(ZipInfo(ABOUT), json.dumps(asdict(about)), ZIP_STORED)
            for name, path in contents.items():
                packed.write(path, name)
        end = raw.seek(0, os.SEEK_END) - _SEAL
        seal = _sha256(raw, end)
        raw.seek(end)
        raw.write(seal)
        raw.flush()
        os.fsync(raw.fileno())


@contextmanager
def opened_backup(file: Path) -> Iterator[tuple[BackupAbout, ZipFile]]:
    """Open a backup whose every byte is as it was written.

    Raises
    ------
    NoBackupError, DamagedBackupError
    OSError
        When it cannot be read.
    """
    with file.open("rb") as raw:
        beginning = raw.read(30 + len(ABOUT))
        if not beginning.startswith(b"PK\x03\x04") or not beginning.endswith(ABOUT.encode()):
            raise NoBackupError
        end = raw.seek(0, os.SEEK_END) - _SEAL
        if end < len(beginning) or _sha256(raw, end) != raw.read(_SEAL):
            raise DamagedBackupError
        with ZipFile(raw) as packed:
            yield _about(packed), packed


def unpack(packed: ZipFile, name: str, target: Path) -> None:
    """Write one file of a backup into a new file, private to its owner."""
    descriptor = os.open(target, os.O_CREAT | os.O_EXCL | os.O_WRONLY, 0o600)
    with os.fdopen(descriptor, "wb") as written, packed.open(name) as source:
        while piece := source.read(_PIECE):
            written.write(piece)


def same_content(packed: ZipFile, name: str, file: Path) -> bool:
    """Say whether a file of a backup reads back as the file it was made from."""
    with packed.open(name) as ours, file.open("rb") as theirs:
        while True:
            piece = ours.read(_PIECE)
            if piece != theirs.read(_PIECE):
                return False
            if not piece:
                return True


def revision_of(database: Path) -> str:
    """Give the revision of the records in a SQLite file."""
    with closing(sqlite3.connect(database)) as connection:
        (found,) = connection.execute("SELECT version_num FROM alembic_version").fetchone()
    return str(found)


def _about(packed: ZipFile) -> BackupAbout:
    said = json.loads(packed.read(ABOUT))
    if said["form"] != FORM:
        # Of a later program; the revision of its records is refused for the same reason.
        raise NoBackupError
    return BackupAbout(**said)


def _sha256(raw: BinaryIO, end: int) -> bytes:
    """Give the SHA-256 of a file's bytes up to an end; the file then stands there."""
    raw.seek(0)
    found, left = sha256(), end
    while left:
        piece = raw.read(min(_PIECE, left))
        if not piece:
            break
        found.update(piece)
        left -= len(piece)
    return found.hexdigest().encode()
