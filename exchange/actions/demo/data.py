"""The demo circle's data, read from its files."""

import csv
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import UTC, date, datetime, time
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

from exchange.paths import DEMO_DATA


@dataclass(frozen=True)
class DemoData:
    """The files as they are; every table is a tuple of rows.

    Attributes
    ----------
    now : the demo's instant: nine in the morning of its day, UTC
    """

    circle: Mapping[str, Any]
    households: tuple[Mapping[str, Any], ...]
    varieties: tuple[Mapping[str, str], ...]
    batches: tuple[Mapping[str, str], ...]
    spares: tuple[Mapping[str, str], ...]
    claims: tuple[Mapping[str, str], ...]

    @property
    def now(self) -> datetime:
        return self.at(self.circle["today"], 9)

    def at(self, day: date, hour: int) -> datetime:
        zone = ZoneInfo(self.circle["zone"])
        return datetime.combine(day, time(hour), zone).astimezone(UTC)


def demo_data(folder: Path = DEMO_DATA) -> DemoData:
    """Read the demo circle."""
    circle = tomllib.loads((folder / "circle.toml").read_text(encoding="utf-8"))
    people = tomllib.loads((folder / "households.toml").read_text(encoding="utf-8"))
    return DemoData(
        circle,
        tuple(people["household"]),
        *(_rows(folder / f"{name}.csv") for name in ("varieties", "batches", "spares", "claims")),
    )


def _rows(path: Path) -> tuple[Mapping[str, str], ...]:
    with path.open(encoding="utf-8", newline="") as file:
        return tuple(csv.DictReader(file))
