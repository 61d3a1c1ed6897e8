"""A copy of a SQLite file, written beside it before anything is changed in it."""

import os
import sqlite3
from contextlib import closing, suppress
from itertools import count
from pathlib import Path


class CopyFailedError(Exception):
    """The copy cannot be written; the text says why."""


def copy_beside(file: Path, name: str) -> Path:
    """Write a copy of a SQLite file beside it, private to its owner, and give where it lies.

    What is still only in the file's log is in the copy too. A copy that is there already stays: the
    new one then has a number at the end of its name.

    Raises
    ------
    CopyFailedError
        When it cannot be written whole; nothing of it is left.
    """
    try:
        copy = _new_file(file, name)
    except OSError as error:
        raise CopyFailedError(str(error)) from error
    try:
        copy_over(file, copy)
    except CopyFailedError:
        with suppress(OSError):
            copy.unlink()
        raise
    return copy


def copy_over(file: Path, copy: Path) -> None:
    """Copy a SQLite file as it stands at one moment, whoever writes in it meanwhile.

    Raises
    ------
    CopyFailedError
        When it cannot be written, or is not sound when read back.
    """
    try:
        with closing(sqlite3.connect(file)) as source, closing(sqlite3.connect(copy)) as target:
            source.backup(target)
            # One file alone: with no log beside it, it can be moved and kept anywhere.
            target.execute("PRAGMA journal_mode=DELETE")
    except (sqlite3.Error, OSError) as error:
        raise CopyFailedError(str(error)) from error
    found = fault_in(copy)
    if found:
        raise CopyFailedError(found)


def fault_in(file: Path) -> str:
    """Say what is wrong with a SQLite file, its pages or its references; empty when it is sound."""
    try:
        with closing(sqlite3.connect(file)) as connection:
            (found,) = connection.execute("PRAGMA integrity_check(1)").fetchone()
            loose = connection.execute("PRAGMA foreign_key_check").fetchall()
    except sqlite3.Error as error:
        return str(error)
    if found != "ok":
        return str(found)
    return f"{len(loose)} rows point at nothing" if loose else ""


def _new_file(file: Path, name: str) -> Path:
    """Make an empty file that only its owner can read, under a name nothing has yet."""
    for number in count(1):
        copy = file.with_name(f"{file.name}.{name}" + (f"-{number}" if number > 1 else ""))
        with suppress(FileExistsError):
            os.close(os.open(copy, os.O_CREAT | os.O_EXCL | os.O_RDWR, 0o600))
            break
    return copy
