"""Live mornings of the demo on changing, missing and older forecasts, and print what became of each announced day.

    .venv/bin/python -m tests.mornings --mornings 14 --seed 1

Every morning at seven the forecast of each place is issued anew, with errors that grow with the lead and last
from issue to issue; on some mornings it is missing, older or shorter instead. One parcel is put on a day by hand.
"""

import argparse
import random
import tempfile
from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from datetime import date, datetime, timedelta
from pathlib import Path

from exchange.actions.posting.change_day import move_day
from exchange.actions.posting.parcels import strip_day
from exchange.actions.posting.replan import Replanned, replan
from exchange.domain.posting.parcel import ParcelState
from exchange.domain.posting.reasons import DayWord
from exchange.domain.weather.forecast import Forecast, Reading
from exchange.records import PARCELS, forecasts_kept
from exchange.records.rows.posting import ParcelRow
from exchange.words.kernel import dates
from exchange.words.posting.posting_days import asked, moved
from tests.builders.demo import demo_site

A_DAY = timedelta(days=1)
AHEAD, SHORT = 15, 3
"""Days a forecast tells, and those a short one does [days]."""
WEATHER = {4: "no forecast", 5: "older forecast", 8: "three nights only", 12: "no forecast"}
"""Mornings on which less is known than the day before, and how; on all others there is a new forecast."""
SPELL_SEEN, SPELL_FIRST, SPELL_NIGHTS, SPELL_K = 6, 8, 3, -8.0
"""A cold spell that forecasts show late: from which morning, of which days, and how cold [days, K]."""
SPREAD_K, GROWTH_K, LASTS = 0.5, 0.4, 0.8
"""Error of the first night, its growth a day [K], and the share of it that stays from issue to issue (judgement)."""


@dataclass(frozen=True, slots=True)
class Morning:
    """What one morning's planning did.

    Attributes
    ----------
    weather : how the forecast stands that morning
    moves, questions : sentences by parcel's code
    grounds : how many days were left for each ground
    """

    day: date
    weather: str
    announced: Mapping[str, date]
    new: tuple[str, ...]
    gone: int
    moves: Mapping[str, str]
    questions: Mapping[str, str]
    grounds: Counter[str] = field(default_factory=Counter)


def mornings(folder: Path, count: int, seed: int) -> Iterator[Morning]:
    """Plan the demo on so many mornings, one after the other."""
    with demo_site(folder) as (here, demo):
        organiser, books = demo.settled.organiser, here.house.books
        issue = _Issue(books, organiser.circle_id, demo.data.now.date(), random.Random(seed))
        before: dict[str, date] = {}
        by_hand = False
        for number in range(count):
            now = demo.data.now + number * A_DAY
            weather = WEATHER.get(number, "new forecast")
            issue.give(weather, now)
            done = replan(organiser, now)
            with books.reading() as tx:
                rows = PARCELS.all(tx, organiser.circle_id)
            found = _morning(done, rows, before, (now.date(), weather))
            yield found
            before = dict(found.announced)
            if not by_hand:
                by_hand = _put_by_hand(organiser, rows, now)


def _put_by_hand(organiser, rows: tuple[ParcelRow, ...], now: datetime) -> bool:
    """Put an announced parcel on the last day of its strip that would do within the week."""
    for row in rows:
        if row.announced_day is None or row.announced_day <= now.date():
            continue
        days = [row.announced_day + n * A_DAY for n in range(1, 7)]
        for day in reversed(days):
            cell = strip_day(row, day)
            if cell is not None and cell.word is DayWord.GOOD:
                move_day(organiser, row.id, day, now)
                return True
    return False


def _morning(
    done: Replanned,
    rows: tuple[ParcelRow, ...],
    before: Mapping[str, date],
    when: tuple[date, str],
) -> Morning:
    today, weather = when
    codes = {row.id: row.code for row in rows}
    announced = {
        row.code: row.announced_day
        for row in rows
        if row.state is ParcelState.ANNOUNCED and row.announced_day and row.announced_day >= today
    }
    asked_of = {one.code: asked(one.asked) for one in done.plan.parcels if one.asked}
    return Morning(
        today,
        weather,
        announced,
        tuple(code for code in announced if code not in before),
        sum(day < today for day in before.values()),
        {codes[key]: moved(one) for key, one in done.moved},
        asked_of,
        Counter(str(one.ground) for _key, one in done.moved),
    )


class _Issue:
    """Issues forecasts for all places, with errors that last."""

    def __init__(self, books, circle_id: int, began: date, chance: random.Random) -> None:
        self.books, self.circle_id, self.began, self.chance = books, circle_id, began, chance
        with books.reading() as tx:
            self.first = forecasts_kept.latest(tx, circle_id)
        self.errors: dict[tuple[int, date, date], float] = {}
        self.last: dict[int, Forecast] = dict(self.first)

    def give(self, weather: str, now: datetime) -> None:
        """Keep the forecasts of a morning, or none."""
        with self.books.writing() as tx:
            forecasts_kept.forget(tx, self.circle_id, now + 400 * A_DAY)
            if weather == "no forecast":
                return
            if weather != "older forecast":
                self.last = {place: self._made(place, weather, now) for place in self.first}
            for one in self.last.values():
                shift = now - 20 * timedelta(hours=1)
                told = one if weather != "older forecast" else replace(one, issued_at=shift - A_DAY)
                forecasts_kept.add(tx, self.circle_id, replace(told, fetched_at=now))

    def _made(self, place: int, weather: str, now: datetime) -> Forecast:
        base = self.first[place]
        days = SHORT if weather == "three nights only" else AHEAD
        begins, ends = now - A_DAY, now + days * A_DAY
        length = base.readings[-1].at - base.readings[0].at
        readings = []
        for turn in range(4):
            for one in base.readings:
                at = one.at + turn * (length + timedelta(hours=1))
                if begins <= at <= ends:
                    error = self._error(place, at.date(), now) + self._spell(at.date(), now)
                    readings.append(Reading(at, one.temperature_c + error))
        return replace(
            base,
            issued_at=now - timedelta(hours=2),
            fetched_at=now,
            expires_at=now + A_DAY,
            readings=tuple(sorted(readings, key=lambda one: one.at)),
        )

    def _spell(self, day: date, now: datetime) -> float:
        first = self.began + SPELL_FIRST * A_DAY
        seen = now.date() >= self.began + SPELL_SEEN * A_DAY
        return SPELL_K if seen and first <= day < first + SPELL_NIGHTS * A_DAY else 0.0

    def _error(self, place: int, day: date, now: datetime) -> float:
        key = (place, day, now.date())
        if key not in self.errors:
            lead = max((day - now.date()).days, 0)
            size = SPREAD_K + GROWTH_K * lead
            last = self.errors.get((place, day, now.date() - A_DAY), 0.0)
            fresh = self.chance.gauss(0.0, size)
            self.errors[key] = (
                LASTS * last * size / (size + GROWTH_K) + (1 - LASTS**2) ** 0.5 * fresh
            )
        return self.errors[key]


def said(one: Morning) -> str:
    """Give what happened on a morning, a line for each thing."""
    kept = len(one.announced) - len(one.new)
    head = (
        f"{dates.day(one.day)}  {one.weather}: {one.gone} gone, {len(one.new)} announced, "
        f"{kept} stand, {len(one.moves)} moved, {len(one.questions)} asked"
    )
    lines = [head]
    by_day = Counter(one.announced[code] for code in one.new)
    lines += [f"    announced for {dates.day(day)}: {by_day[day]}" for day in sorted(by_day)]
    lines += [f"    {code}: {sentence}" for code, sentence in sorted(one.moves.items())]
    lines += [f"    {code} asks: {sentence}" for code, sentence in sorted(one.questions.items())]
    return "\n".join(lines).replace("\u00a0", " ")


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--mornings", type=int, default=14)
    parser.add_argument("--seed", type=int, default=1)
    asked_for = parser.parse_args()
    moves = announced = 0
    with tempfile.TemporaryDirectory() as folder:
        for one in mornings(Path(folder), asked_for.mornings, asked_for.seed):
            print(said(one), flush=True)
            moves, announced = moves + len(one.moves), announced + len(one.new)
    print(f"{announced} announcements, {moves} moves")


if __name__ == "__main__":
    main()
