"""The kept databases, unpacked."""

import json
import lzma
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path
from typing import Any

import pytest
from sqlalchemy import make_url

from tests.app_fixtures import fresh_database

FOLDER = Path(__file__).parent


@dataclass(frozen=True)
class KeptCircle:
    """A filled database of a revision: "0004.sqlite.xz", and "0004.sqlite.json" of what must survive."""

    file: Path

    @property
    def revision(self) -> str:
        return self.file.name.partition(".")[0]

    @property
    def kind(self) -> str:
        return self.file.name.split(".")[1]

    @cached_property
    def summary(self) -> dict[str, Any]:
        return json.loads(
            (FOLDER / f"{self.revision}.{self.kind}.json").read_text(encoding="utf-8")
        )

    @contextmanager
    def unpacked(self, folder: Path) -> Iterator[str]:
        """Give the address of a database that holds it, as it was."""
        whole = lzma.decompress(self.file.read_bytes())
        with fresh_database(self.kind, folder) as address:
            if self.kind == "sqlite":
                Path(make_url(address).database or "").write_bytes(whole)
            else:
                _load(address, whole.decode())
            yield address


def _load(address: str, dump: str) -> None:
    """Run a dump's statements; the driver is there only where PostgreSQL is used."""
    import psycopg

    plain = address.replace("postgresql+psycopg://", "postgresql://", 1)
    with psycopg.connect(plain) as connection:
        connection.execute(dump)


def kept_circles() -> list[Any]:
    """Give a parameter for each kept database."""
    found = [KeptCircle(file) for file in sorted(FOLDER.glob("*.xz"))]
    marks = {"postgresql": (pytest.mark.postgresql,)}
    return [
        pytest.param(one, marks=marks.get(one.kind, ()), id=f"{one.revision} {one.kind}")
        for one in found
    ]
