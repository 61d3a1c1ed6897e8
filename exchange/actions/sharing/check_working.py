"""Checking a working with the second program, which knows no solver."""

import json
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from exchange.actions.kernel.refusals import RefusedError
from exchange.domain.sharing.working import CheckResult, check, in_order


class NotAWorkingError(RefusedError):
    """The file is not the working of a share-out."""


@dataclass(frozen=True, slots=True)
class Checked:
    """What the checker says: one line per rule; whether rules 1 to 4 are proven, nothing wrong."""

    lines: tuple[str, ...]
    proven: bool


def check_file(path: Path) -> Checked:
    """Check the working in a file.

    Raises
    ------
    NotAWorkingError
        When the file holds no working.
    """
    verdicts = check(read_working(path))
    lines = tuple(_line(one) for one in verdicts)
    return Checked(lines, in_order(verdicts))


def read_working(path: Path) -> dict[str, Any]:
    """Read a working from its file.

    Raises
    ------
    NotAWorkingError
        When the file holds none.
    """
    try:
        working = json.loads(path.read_text(encoding="utf-8"))
    except (OSError, ValueError) as error:
        raise NotAWorkingError(f"{path} cannot be read: {error}") from error
    if not isinstance(working, dict):
        raise NotAWorkingError(f"{path} is no working of a share-out.")
    return working


def _line(verdict: CheckResult) -> str:
    number = f"rule {verdict.rule}, " if 1 <= verdict.rule <= 6 else ""
    beyond = "second pass, " if verdict.beyond else ""
    return f"{beyond}{number}{verdict.name}: {verdict.words}"
