"""Replay the springs of daily files and hold the planner's rule against its limits.

    .venv/bin/python -m tests.reference.measure_replay FOLDER [SET ...]

reads Dublin airport (Met Éireann) and Hoogeveen, Hupsel and Herwijnen (KNMI) below the folder, replays Dublin alone, the
three Dutch stations, and Dublin with Hoogeveen with three seeds each, prints a line for each, and ends with status 1
where a limit is missed. Dublin alone stands for Britain and Ireland: there is no daily file of Great Britain. It takes
some minutes. The ordinary tests replay generated springs.
"""

import sys
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

import numpy as np

from exchange.actions.weather.replay import replay_files
from exchange.domain.posting.replay.process import Process
from exchange.domain.posting.replay.run import RuleReplay

STATIONS = {
    "dublin_airport": (53.43, -6.25),
    "knmi_279_hoogeveen": (52.75, 6.57),
    "knmi_283_hupsel": (52.07, 6.66),
    "knmi_356_herwijnen": (51.86, 5.15),
}
"""Latitude and longitude, from memory [degrees]."""
DUBLIN, HOOGEVEEN, *_ = STATIONS
SETS = {
    "Dublin": (DUBLIN,),
    "the Netherlands": tuple(STATIONS)[1:],
    "Dublin and Hoogeveen": (DUBLIN, HOOGEVEEN),
}
SEEDS = (1, 2, 3)
MEAN_SHARE = {Process.AS_BEFORE: 0.84, Process.LASTING: 0.78}
MOST_SHARE, MOST_OVER_SUNDAY, MOST_FORCED = 1.0, 0.5, 2.5
MOST_MOVES, MOST_MOVED, MOST_MOVED_TWICE = 50.0, 35.0, 12.0


@dataclass(frozen=True, slots=True)
class Row:
    """One material by one process in one set of files with one seed."""

    name: str
    seed: int
    one: RuleReplay

    def over_sunday(self) -> float:
        """Give how many more parcels in 100 lie over a Sunday than by the best rule of thumb."""
        best = min(self.one.beside.values(), key=lambda tally: tally.lost)
        return self.one.practised.over_sunday - best.over_sunday

    def line(self) -> str:
        """Say it in a line."""
        ours, best = (
            self.one.practised,
            min(self.one.beside.values(), key=lambda tally: tally.lost),
        )
        return (
            f"{self.one.process:9} {self.name:20} {self.seed} {self.one.material:6} wait {ours.wait:.2f}, lost {ours.lost:.2f} "
            f"({ours.least:.2f} to {ours.most:.2f}), thumb {best.lost:.2f}, share {self.one.share:.3f}; frosted {ours.frosted:.1f} / "
            f"{best.frosted:.1f}, Sunday {ours.over_sunday:.2f} / {best.over_sunday:.2f}, forced {ours.forced:.2f} / {best.forced:.2f}, "
            f"moves {ours.moves:.1f}, moved {ours.moved:.1f}, twice {ours.moved_twice:.1f}"
        )

    def missed(self) -> Iterator[str]:
        """Name the limits that it misses."""
        ours = self.one.practised
        for what, value, limit in (
            ("share", self.one.share, MOST_SHARE),
            ("over Sunday", self.over_sunday(), MOST_OVER_SUNDAY),
            ("forced", ours.forced, MOST_FORCED),
            ("moves", ours.moves, MOST_MOVES),
            ("moved", ours.moved, MOST_MOVED),
            ("moved twice", ours.moved_twice, MOST_MOVED_TWICE),
        ):
            if value > limit:
                yield f"{what} {value:.2f} over {limit:g}: {self.line()}"


def rows(folder: Path, name: str, seed: int) -> list[Row]:
    """Replay one set of files with one seed."""
    paths = [folder / f"{station}_daily.csv" for station in SETS[name]]
    positions = [STATIONS[station] for station in SETS[name]]
    found = replay_files(
        paths, positions, np.random.default_rng(seed), lambda _process, _done, _of: None
    )
    return [Row(name, seed, one) for one in found.found]


def main(arguments: Sequence[str]) -> int:
    """Measure, print and judge."""
    folder, found = Path(arguments[0]), []
    for name in arguments[1:] or SETS:
        for seed in SEEDS:
            found += rows(folder, name, seed)
            for row in found[-4:]:
                print(row.line(), flush=True)
    missed = [said for row in found for said in row.missed()]
    for process, limit in MEAN_SHARE.items():
        mean = np.mean([row.one.share for row in found if row.one.process is process])
        print(f"{process}: mean share {mean:.3f}, limit {limit}")
        if mean > limit:
            missed.append(f"mean share {mean:.3f} over {limit} for {process}")
    print("\n".join(missed) or "All limits are kept.")
    return int(bool(missed))


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
