"""The demo's whole main job, from the command's start to its end."""

import tempfile
import time
from collections.abc import Iterable
from pathlib import Path

from tests.benchmarks.figure import Figure
from tests.demo.once import run_once

LONGEST_S = 30.0
"""The whole main job, papers and calendars written [s]."""


def figures() -> Iterable[Figure]:
    """Give how long `exchange demo --once` takes."""
    with tempfile.TemporaryDirectory() as folder:
        started = time.perf_counter()
        run_once(Path(folder) / "season")
        taken = time.perf_counter() - started
    yield Figure("exchange demo --once, whole main job", taken, LONGEST_S, 1.0)
