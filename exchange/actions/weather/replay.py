"""The replay of past springs from files of daily minima."""

import csv
from collections.abc import Mapping, Sequence
from datetime import date
from pathlib import Path

import numpy as np

from exchange.domain.posting.replay.process import PARCELS_A_SPRING
from exchange.domain.posting.replay.run import Progress, Replay, replay
from exchange.papers.replay_picture import replay_svg

DAY, MINIMUM = "date", "tmin_c"


class UnreadableDailyFileError(ValueError):
    """A daily file is not as it should be."""


def read_daily(path: Path) -> dict[date, float]:
    """Read a file of daily minima: columns date (YYYY-MM-DD) and tmin_c; others are passed over.

    Days without a value are left out.

    Raises
    ------
    UnreadableDailyFileError
        When a column is missing, or a line cannot be read.
    """
    with path.open(encoding="utf-8-sig", newline="") as file:
        rows = csv.DictReader(file)
        missing = {DAY, MINIMUM} - set(rows.fieldnames or ())
        if missing:
            raise UnreadableDailyFileError(
                f"{path.name} has no column {' and '.join(sorted(missing))}."
            )
        return {
            date.fromisoformat(row[DAY]): value
            for row in rows
            if (value := _minimum(path, rows.line_num, row)) is not None
        }


def _minimum(path: Path, line: int, row: Mapping[str, str]) -> float | None:
    written = (row[MINIMUM] or "").strip()
    try:
        date.fromisoformat(row[DAY])
        return float(written) if written else None
    except ValueError as fault:
        raise UnreadableDailyFileError(
            f"Line {line} of {path.name} cannot be read: {row[DAY]}, {written}."
        ) from fault


def replay_files(
    paths: Sequence[Path],
    chance: np.random.Generator,
    progress: Progress,
    count: int = PARCELS_A_SPRING,
) -> Replay:
    """Replay the springs of some files.

    Raises
    ------
    UnreadableDailyFileError, NoSpringsError
        When a file cannot be read, or the files have too few springs in common.
    """
    series = {path.stem: read_daily(path) for path in paths}
    return replay(series, chance, count, progress)


def write_picture(found: Replay, path: Path) -> None:
    """Write the picture of a replay as SVG."""
    path.write_text(replay_svg(found), encoding="utf-8")
