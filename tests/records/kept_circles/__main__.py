"""Make the kept circles of this revision: `python -m tests.records.kept_circles FOLDER [sqlite | ADDRESS]`.

For the second, give the address of an empty PostgreSQL database; `pg_dump` must be there.

It works at the revision it stands at, and takes a quarter of an hour. The files kept beside it are of
the revision their names tell and are never made anew: they are what a circle of that day holds.
After a migration that changes more than a shape, make those of the new revision with it and keep
them beside the older ones.
"""

import json
import lzma
import sqlite3
import subprocess
import sys
from pathlib import Path
from tempfile import TemporaryDirectory

from sqlalchemy import make_url

from exchange.records.upgrade import revision
from tests.records.kept_circles.build import built, leave_tasks
from tests.records.kept_circles.summary import summary_of


def make(out: Path, database: str) -> None:
    """Write a filled database of this revision into a folder, and beside it what must survive."""
    out.mkdir(parents=True, exist_ok=True)
    with TemporaryDirectory(prefix="kept-circle-") as folder:
        address = "" if database == "sqlite" else database
        with built(Path(folder), address) as made:
            leave_tasks(made)
            books = made.here.house.books
            at = revision(books) or ""
            ending = "sqlite" if books.engine.dialect.name == "sqlite" else "postgresql.sql"
            summary = json.dumps(summary_of(made, at), indent=1, ensure_ascii=False)
            (out / f"{at}.{ending}.json").write_text(summary + "\n", encoding="utf-8")
            url = books.url
        file = make_url(url).database or ""
        whole = _sqlite(Path(file)) if ending == "sqlite" else _dump(url)
        (out / f"{at}.{ending}.xz").write_bytes(
            lzma.compress(whole, preset=9 | lzma.PRESET_EXTREME)
        )


def _sqlite(file: Path) -> bytes:
    """Give a file with nothing left in its log."""
    with sqlite3.connect(file) as connection:
        connection.execute("PRAGMA wal_checkpoint(TRUNCATE)")
    connection.execute("PRAGMA journal_mode=DELETE")
    connection.execute("VACUUM")
    connection.close()
    return file.read_bytes()


def _dump(address: str) -> bytes:
    """Give a dump that any client can load: statements only."""
    plain = address.replace("postgresql+psycopg://", "postgresql://", 1)
    words = [
        "pg_dump",
        "--no-owner",
        "--no-privileges",
        "--inserts",
        "--rows-per-insert=500",
        plain,
    ]
    text = subprocess.run(words, capture_output=True, check=True, text=True).stdout
    # Newer releases frame a dump with commands only psql knows.
    lines = [line for line in text.splitlines(keepends=True) if not line.startswith("\\")]
    return "".join(lines).encode()


make(Path(sys.argv[1]), sys.argv[2] if len(sys.argv) > 2 else "sqlite")
