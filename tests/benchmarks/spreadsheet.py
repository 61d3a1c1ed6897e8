"""A spreadsheet of 5,000 rows, read and brought in, against plain reading and inserting; and its journey's pages.

Against stand `csv.reader` and one `executemany` into a table without any rule, on the same machine at the same time.
"""

import csv
import sqlite3
import tempfile
import time
from collections.abc import Iterable
from datetime import date
from io import StringIO
from pathlib import Path

from exchange.actions.circle.page_spreadsheets import file_page
from exchange.actions.circle.spreadsheet_bring import bring_in
from exchange.actions.circle.spreadsheets import answer, hand_in
from exchange.actions.kernel.tasks import run_one
from exchange.domain.growing.batch import Raised
from exchange.domain.spreadsheet.choices import FileChoices, SheetChoices
from exchange.domain.spreadsheet.sheet import MOST_ROWS
from exchange.jobs.kinds import KINDS
from tests.app_fixtures import NOW, a_house
from tests.benchmarks.figure import Figure
from tests.builders.offers import a_ring
from tests.builders.workbooks import a_name
from tests.builders.workbooks import csv as csv_file

NAMES, MATERIALS = 300, ("rooted", "young plant", "pot tuber", "division", "clump", "unrooted")
WHOSE = ("Winnie", "Cuthbert", "Effie")
LONGEST_S = 10.0
SAID = SheetChoices(
    raised=Raised.COOL, ready_from=date(2027, 4, 12), send_by=date(2027, 5, 24)
)  # fmt: skip


def a_long_list() -> bytes:
    """Give 5,000 spares of 300 varieties."""
    rows = (
        (
            a_name(at % NAMES),
            "Dahlia",
            WHOSE[at // NAMES % 3],
            str(2 + at % 7),
            MATERIALS[at // NAMES // 3 % 6],
        )
        for at in range(MOST_ROWS)
    )
    return csv_file(("Variety", "Kind", "Whose", "How many", "Sent as"), *rows)


def figures() -> Iterable[Figure]:
    """Measure processor time, which other programs of the machine do not lengthen."""
    content = a_long_list()
    plain = _plainly(content)
    with tempfile.TemporaryDirectory() as folder, a_house(Path(folder)) as house:
        winnie = a_ring(house).actor("Winnie")
        file_id = hand_in(winnie, "spares.csv", content, NOW).id
        said = FileChoices(sheets={"spares": SAID})
        answer(winnie, file_id, said, NOW)
        started = time.process_time()
        while run_one(house, KINDS, lambda: NOW):
            pass
        read = time.process_time() - started
        page = file_page(winnie, file_id)
        started = time.process_time()
        bring_in(winnie, file_id, page.version, FileChoices(), NOW)
        while run_one(house, KINDS, lambda: NOW):
            pass
        brought = time.process_time() - started
        went_in = len(file_page(winnie, file_id).went_in)
    whole = read + brought if went_in == MOST_ROWS else float("inf")
    yield Figure(f"{MOST_ROWS} rows read and brought in, in time", whole, LONGEST_S, 1.0)
    yield Figure(f"{MOST_ROWS} rows, to plain insertion", whole, plain, 500.0)


def _plainly(content: bytes) -> float:
    """Give the time in which the same rows are read and inserted without any question."""
    started = time.process_time()
    for _again in range(20):
        rows = list(csv.reader(StringIO(content.decode())))[1:]
        with sqlite3.connect(":memory:") as books:
            books.execute("CREATE TABLE spare (variety, kind, whose, count, material)")
            books.executemany("INSERT INTO spare VALUES (?, ?, ?, ?, ?)", rows)
    return (time.process_time() - started) / 20
