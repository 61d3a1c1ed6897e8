"""Reads the packaged tables."""

import csv
from pathlib import Path

from exchange.paths import REFERENCE_DATA


class TableMissingError(Exception):
    """A packaged table is not where the program expects it."""


def rows_of(name: str, folder: Path = REFERENCE_DATA) -> list[dict[str, str]]:
    """Give the rows of a packaged CSV, by column name.

    Raises
    ------
    TableMissingError
        when the file is not there
    """
    path = folder / name
    if not path.is_file():
        raise TableMissingError(f"The packaged table {name} is missing from {folder}.")
    with path.open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))
