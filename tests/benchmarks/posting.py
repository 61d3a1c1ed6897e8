"""The risk table against a plain loop, and the choice of days, at the required sizes.

Where two of our own programs are compared, and for the choice of days, processor time is counted.
"""

import resource
import time
from collections.abc import Iterable
from datetime import UTC, datetime, timedelta

import numpy as np

from exchange.domain.growing.shelter import Shelter, ShelterKind
from exchange.domain.posting.choose_days import choose_days
from exchange.domain.posting.options import Option, cases
from exchange.domain.posting.packing import packing
from exchange.domain.posting.risk import risk_table
from exchange.domain.posting.transit import ArrivalChance
from tests.benchmarks.figure import Figure
from tests.builders.posting import (
    MONDAY,
    a_household,
    a_line,
    a_parcel,
    a_place,
    facts,
    first_class,
)
from tests.builders.risk import a_question, journeys
from tests.builders.scalar_risk import scalar_means

PARCELS, DAYS, AFTER = 1480, 21, 8
ODDS = (
    (0.0, 0.775, 0.148, 0.043, 0.034, 0.0, 0.0, 0.0, 0.0),
    (0.0, 0.05, 0.3, 0.566, 0.05, 0.018, 0.016, 0.0, 0.0),
    (0.0, 0.6, 0.25, 0.08, 0.04, 0.02, 0.01, 0.0, 0.0),
)
"""Three ways, up to six delivery days, over a Sunday at the most eight days."""
CIRCLES = ((12, 28, 0.02), (60, 210, 0.25), (300, 1480, 2.5), (2000, 11_800, 90.0))


def figures() -> Iterable[Figure]:
    """Measure; the plain loop is timed on a sample and scaled up."""
    yield from _risk()
    for members, parcels, limit in CIRCLES:
        seconds, proven = _days(members, parcels)
        name = f"days of {parcels} parcels, {'proven' if proven else 'NOT PROVEN'}"
        yield Figure(name, seconds if proven else float("inf"), limit, 1.0)


def _risk() -> Iterable[Figure]:
    question, parcels = a_question(days=DAYS, most_after=AFTER), journeys(PARCELS)
    odds = np.array(ODDS).T
    started, worked = time.perf_counter(), time.process_time()
    table = risk_table(parcels, question, figures=False)
    risks = [np.nan_to_num(loss) @ odds for loss in table.loss]
    ours, work = time.perf_counter() - started, time.process_time() - worked
    size = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    hourly, sample = question.air.hourly.tolist(), range(0, PARCELS, 37)
    worst, started = 0.0, time.process_time()
    for number in sample:
        day = number % DAYS
        means = scalar_means(parcels[number], question, hourly, day)
        for way, row in enumerate(ODDS):
            plain = sum(row[after] * loss[0] for after, loss in means.items())
            worst = max(worst, abs(plain - float(risks[number][0, day, way])))
    plain_time = (time.process_time() - started) / len(sample) * PARCELS * DAYS
    name = f"risk of {PARCELS} parcels x {DAYS} days x {len(ODDS)} ways"
    yield Figure(name, ours, 3.0, 1.0)
    yield Figure(f"{name}, peak memory", size, 500.0, 1.0, "MB")
    yield Figure(f"{name}, processor time", work, plain_time, 0.01)
    yield Figure("risk table, largest difference from the loop", worst, 1e-9, 1.0, "")


def _days(members: int, parcels: int) -> tuple[float, bool]:
    """Choose days in a made-up circle: half the days, three ways, tight room at a third of places."""
    rng = np.random.default_rng(members)
    ways = [first_class(n, postage=300 + 60 * n) for n in (1, 2, 3)]
    homes = {n: a_place(n) for n in range(members)}
    around = facts(
        (),
        households={n: a_household(n) for n in range(members)},
        places=homes,
        shelters=tuple(
            Shelter(n, ShelterKind.HEATED, int(rng.integers(3, 9)) if n % 3 == 0 else None)
            for n in range(members)
        ),
        ways={way.id: way for way in ways},
    )
    now = datetime.combine(MONDAY, datetime.min.time(), UTC)
    made, options = [], {}
    for number in range(1, parcels + 1):
        sender, receiver = (int(one) for one in rng.choice(members, 2, replace=False))
        parcel = a_parcel(
            number,
            lines=(
                a_line(
                    number, variety_id=int(rng.integers(200)), must_not_be_lost=number % 20 == 0
                ),
            ),
            sender_household_id=sender,
            sender_place_id=sender,
            receiver_household_id=receiver,
            receiver_place_id=receiver,
        )
        made.append(parcel)
        base = rng.gamma(0.5, 0.04, DAYS)
        options[number] = [
            _option(number, offset, way, float(base[offset] * (0.7 + 0.2 * way.id)))
            for offset in range(DAYS)
            if rng.random() < 0.5
            for way in ways
        ]
    laid = cases(made, around, now)
    started = time.process_time()
    chosen = choose_days(laid, options, around)
    return time.process_time() - started, chosen.proven


def _option(number, offset, way, lost):
    day = MONDAY + timedelta(days=offset)
    coming = (ArrivalChance(day + timedelta(days=1), 1.0),)
    box = packing("shoe_box")
    return Option(number, day, offset, way, coming, box, lost, lost, 5.0, 4.0)
