"""How long the pages of a planned circle of eighteen households take to answer."""

import statistics
import time
from collections.abc import Iterator
from pathlib import Path
from tempfile import TemporaryDirectory

from exchange.records import MEMBERS, PARCELS
from tests.app_fixtures import Visitor
from tests.benchmarks.figure import Figure
from tests.builders.demo import demo_site

LIMIT_S = 0.15
"""What a page of the circle may take (judgement) [s]."""

TURNS = 15


def figures() -> Iterator[Figure]:
    with TemporaryDirectory() as folder, demo_site(Path(folder)) as (here, demo):
        circle_id = demo.settled.circle_id
        with here.house.books.reading() as tx:
            organiser = MEMBERS.find(tx, circle_id, organiser=True)
            parcel = PARCELS.find(tx, circle_id, sender_household_id=organiser.household_id)
        visitor = Visitor(here, organiser)
        for name, path in (
            ("first page, organiser", "/todo"),
            ("list of 71 parcels, organiser", "/parcels"),
            ("one parcel with its strip", f"/parcels/{parcel.id}"),
            ("packing slip as a page", f"/papers/{parcel.id}/slip"),
        ):
            yield Figure(f"page: {name}", _median(visitor, path), LIMIT_S, 1.0)


def _median(visitor: Visitor, path: str) -> float:
    taken = []
    for _turn in range(TURNS):
        start = time.perf_counter()
        answer = visitor.get(path)
        taken.append(time.perf_counter() - start)
        assert answer.status_code == 200, path
    return statistics.median(taken)
