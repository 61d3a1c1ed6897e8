"""Make the kept circles of this revision: `python -m tests.records.kept_circles FOLDER ADDRESS`.

ADDRESS is that of an empty PostgreSQL database; `pg_dump` must be there. The circle is built and lives its
two months twice, in a SQLite file and in that database.

It works at the revision it stands at, and takes half an hour. The files kept beside it are of
the revision their names tell and are never made anew: they are what a circle of that day holds.
After a migration that changes more than a shape, make those of the new revision with it and keep
them beside the older ones.
"""

import json
import lzma
import sqlite3
import subprocess
import sys
from contextlib import closing
from pathlib import Path
from tempfile import TemporaryDirectory

from sqlalchemy import make_url

from exchange.records.upgrade import newest
from tests.records.kept_circles.build import built, leave_tasks
from tests.records.kept_circles.summary import summary_of

PSQL_ONLY = ("\\restrict", "\\unrestrict")


def make(out: Path, address: str) -> None:
    """Write both filled databases of this revision into a folder, and beside each what must survive."""
    out.mkdir(parents=True, exist_ok=True)
    for kind, database in (("sqlite", ""), ("postgresql", address)):
        with TemporaryDirectory(prefix="kept-circle-") as folder:
            with built(Path(folder), database) as made:
                leave_tasks(made)
                summary = json.dumps(summary_of(made, newest()), indent=1, ensure_ascii=False)
                file = make_url(made.here.house.books.url).database or ""
            whole = _dump(address) if database else _sqlite(Path(file))
        keep(out / f"{newest()}.{kind}{'.sql' if database else ''}.xz", whole)
        (out / f"{newest()}.{kind}.json").write_text(summary + "\n", encoding="utf-8")


def keep(file: Path, whole: bytes) -> None:
    file.write_bytes(lzma.compress(whole, preset=9 | lzma.PRESET_EXTREME))


def _sqlite(file: Path) -> bytes:
    """Give a file with nothing left in its log."""
    with closing(sqlite3.connect(file)) as connection:
        connection.execute("PRAGMA journal_mode=DELETE")
        connection.execute("VACUUM")
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
    lines = [line for line in text.splitlines(keepends=True) if not line.startswith(PSQL_ONLY)]
    return "".join(lines).encode()


if __name__ == "__main__":
    make(Path(sys.argv[1]), sys.argv[2])
