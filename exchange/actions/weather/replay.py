"""The replay of past springs from files of daily minima."""

import csv
from collections.abc import Mapping, Sequence
from datetime import date
from pathlib import Path

import numpy as np

from exchange.domain.circle.earth import distance_km
from exchange.domain.posting.replay.run import Progress, Replay, replay
from exchange.papers.replay_page import replay_html

DAY, MINIMUM = "date", "tmin_c"
USUALLY_APART_KM = 300.0
"""How far apart two files count where nobody says (judgement) [km]."""

Position = tuple[float, float]
"""Latitude and longitude [degrees]."""


class UnreadableDailyFileError(ValueError):
    """A daily file is not as it should be."""


class UnevenPositionsError(ValueError):
    """There are not as many positions as files."""


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
    positions: Sequence[Position],
    chance: np.random.Generator,
    progress: Progress,
) -> Replay:
    """Replay the springs of some files.

    Parameters
    ----------
    positions : of the files, in their order; none, where nobody says

    Raises
    ------
    UnreadableDailyFileError, NoSpringsError
        When a file cannot be read, or the files have too few springs in common.
    UnevenPositionsError
        When some files have a position and others have none.
    """
    if positions and len(positions) != len(paths):
        raise UnevenPositionsError(
            f"There are {len(paths)} files and {len(positions)} positions: give one for each file, or none."
        )
    series = {path.stem: read_daily(path) for path in paths}
    apart = USUALLY_APART_KM * (1 - np.eye(len(paths)))
    if positions:
        apart = np.array([[distance_km(one, other) for other in positions] for one in positions])
    return replay(series, apart, chance, progress)


def write_page(found: Replay, path: Path) -> None:
    """Write the charts and tables of a replay as a web page."""
    path.write_text(replay_html(found), encoding="utf-8")
