"""Count frosts in daily and monthly files and hold our dates against them.

    .venv/bin/python -m tests.reference.count_frosts FOLDER

reads every `*_daily.csv` (columns date, tmin_c) and every Met Office `*data.txt` below the folder, years
1991 to 2020, and prints the last frosts at six shifts of temperature, the first autumn frosts, and the chances
of a late frost at the monthly stations. The ordinary tests use counts pinned from its output.
"""

import csv
import re
import sys
from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass
from datetime import date
from pathlib import Path

import numpy as np

from exchange.domain.weather.climate import Climate, with_nights_shifted
from exchange.domain.weather.frost import GROUND_FROST, chances_from, frost_by, safe_date
from exchange.reference.stations import climate_at_station, stations

SHIFTS_K = (1.0, 0.0, -1.0, -1.5, -2.0, -3.0)
YEARS = range(1991, 2021)
MONTHS = {4: "April", 5: "May", 6: "June"}
SPRING_ENDS = 205
YEAR = 2027
GRASS = ("grass_min_c", "tmin_10cm_c")

Years = dict[int, list[tuple[int, float]]]


@dataclass(frozen=True, slots=True)
class Counted:
    """A counted date beside ours, as days of a 365-day year."""

    name: str
    what: str
    counted: float
    ours: int

    @property
    def late(self) -> float:
        """How much later ours is [days]."""
        return self.ours - self.counted


def by_name() -> dict[str, Climate]:
    """Give the climate of each packaged station by its name in small letters without gaps."""
    return {_plain(one.name): climate_at_station(one) for one in stations()}


def daily_minima(path: Path, columns: Collection[str] = ("tmin_c",)) -> Years:
    """Read a daily file: year -> (day of a 365-day year, minimum [degrees C]), from the first column it has."""
    years: Years = {year: [] for year in YEARS}
    with path.open(encoding="utf-8") as file:
        for row in csv.DictReader(file):
            day = date.fromisoformat(row["date"])
            told = next((row[one] for one in columns if one in row), "")
            if told and day.year in years:
                years[day.year].append((plain_day(day), float(told)))
    return years


def plain_day(day: date) -> int:
    """Give the day of the year, 29 February counted with the 28th."""
    leap = day.month == 2 and day.day == 29
    return day.replace(year=2001, day=28 if leap else day.day).timetuple().tm_yday


def last_frost(years: Years, shift_k: float = 0.0) -> float:
    """Give the last frost of nine springs in ten, with every night so much warmer [day of the year]."""
    last = [
        max((day for day, low in nights if day <= SPRING_ENDS and low < -shift_k), default=0)
        for nights in years.values()
    ]
    return float(np.quantile(last, 0.9))


def first_frost(years: Years, share: float, shift_k: float = 0.0) -> float:
    """Give the first autumn frost by a share of years [day of the year]."""
    first = [
        min((day for day, low in nights if day > SPRING_ENDS and low < -shift_k), default=366)
        for nights in years.values()
    ]
    return float(np.quantile(first, share))


def last_cases(name: str, climate: Climate, years: Years) -> Iterator[Counted]:
    """Set our last frosts beside those counted; ours is the last day with a frost in more than 1 spring of 10."""
    for shift in SHIFTS_K:
        safe = safe_date(with_nights_shifted(climate, shift), YEAR)
        ours = plain_day(safe.day) - 1 if safe else SPRING_ENDS
        yield Counted(name, f"{shift:+.1f} K", last_frost(years, shift), ours)


def first_cases(name: str, climate: Climate, years: Years) -> Iterator[Counted]:
    """Set our first autumn frosts beside those counted."""
    for share, shift in ((0.1, 0.0), (0.5, 0.0), (0.5, -1.5)):
        day = frost_by(with_nights_shifted(climate, shift), YEAR, share)
        ours = plain_day(day) if day else 366
        what = f"{share:.0%} {shift:+.1f} K"
        yield Counted(name, what, first_frost(years, share, shift), ours)


def ground_case(name: str, climate: Climate, years: Years) -> Counted:
    """Set our last ground frost beside the one counted over grass, or at 10 cm."""
    safe = safe_date(climate, YEAR, frost=GROUND_FROST)
    ours = plain_day(safe.day) - 1 if safe else SPRING_ENDS
    return Counted(name, "ground", last_frost(years), ours)


def frost_months(path: Path) -> dict[int, dict[int, int]]:
    """Read a monthly file: year -> month -> nights with an air frost, from final rows only."""
    found: dict[int, dict[int, int]] = {}
    for line in path.read_text(encoding="latin-1").splitlines():
        cells = line.replace("*", "").replace("#", "").split()
        if not re.match(r"\s*\d{4}\s+\d{1,2}\s", line) or "Provisional" in line:
            continue
        year, month, frosts = int(cells[0]), int(cells[1]), cells[4]
        if year in YEARS and frosts != "---":
            found.setdefault(year, {})[month] = int(frosts)
    return found


def late_frosts(path: Path, climate: Climate) -> Iterator[tuple[int, float]]:
    """Give, from each month on, by how much our chance of a frost up to July exceeds the counted one."""
    counts, chances = frost_months(path), chances_from(climate)
    for month in MONTHS:
        whole = [
            [year[one] for one in range(month, 8)]
            for year in counts.values()
            if all(one in year for one in range(month, 8))
        ]
        came = np.mean([any(frosts) for frosts in whole])
        yield month, float(chances[plain_day(date(2001, month, 1)) - 1] - came)


def main(folder: Path) -> None:
    """Print all counts of a folder beside ours."""
    known = by_name()
    last, first, ground = [], [], []
    for path in sorted(folder.rglob("*_daily.csv")):
        name = _plain(re.sub(r"^knmi_\d+_|_daily$", "", path.stem))
        if name in known:
            years = daily_minima(path)
            last += list(last_cases(name, known[name], years))
            first += list(first_cases(name, known[name], years))
            ground.append(ground_case(name, known[name], daily_minima(path, GRASS)))
    tables = {
        "last frost, 9 springs in 10": last,
        "last ground frost": ground,
        "first frost": first,
    }
    for title, cases in tables.items():
        print(f"\n{title}: counted, ours")
        for one in cases:
            print(
                f"{one.name:16}{one.what:12}{_day(one.counted):>8}{_day(one.ours):>8}{one.late:+6.1f}"
            )
    if last:
        late = np.array([one.late for one in last])
        print(
            f"{len(late)} cases: {late.min():+.1f} to {late.max():+.1f} days, mean {late.mean():+.1f}, "
            f"rms {np.sqrt((late**2).mean()):.1f}"
        )
    _print_monthly(folder, known)


def _print_monthly(folder: Path, known: Mapping[str, Climate]) -> None:
    errors: dict[int, dict[str, float]] = {month: {} for month in MONTHS}
    for path in sorted(folder.rglob("*data.txt")):
        name = path.stem.removesuffix("data")
        if name in known:
            for month, error in late_frosts(path, known[name]):
                errors[month].setdefault(name, error)
    print("\nchance of an air frost from the first of a month on, ours less counted")
    for month, found in errors.items():
        if found:
            error = np.array(list(found.values()))
            worst = max(found, key=lambda name: abs(found[name]))
            print(
                f"{MONTHS[month]:6} {len(found)} stations, mean {error.mean():+.3f}, "
                f"rms {np.sqrt((error**2).mean()):.3f}, worst {worst} {found[worst]:+.2f}"
            )


def _day(number: float) -> str:
    return date.fromordinal(date(2001, 1, 1).toordinal() + round(number) - 1).strftime("%-d %b")


def _plain(name: str) -> str:
    return re.sub("[^a-z]", "", name.lower())


if __name__ == "__main__":
    if len(sys.argv) != 2:
        sys.exit("Name the folder: .venv/bin/python -m tests.reference.count_frosts FOLDER")
    main(Path(sys.argv[1]))
