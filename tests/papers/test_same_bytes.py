"""Nothing changed, nothing differs: papers and calendars made twice, in two processes, two zones."""

import os
import subprocess
import sys
from hashlib import sha256
from pathlib import Path

from exchange.calendars.ical import calendar_bytes
from exchange.papers.fill import card_of, care_sheet_of, labels_of, slip_of
from exchange.papers.grids import GRIDS
from exchange.papers.labels import labels_pdf
from exchange.papers.paper import PageSize
from exchange.papers.printing import bundle_pdf, care_sheet_pdf, slip_pdf
from tests.builders.calendars import a_season
from tests.builders.papers import a_place, mixed_contents, parcel_facts

ROOT = Path(__file__).parents[2]


def fingerprints():
    facts, place = parcel_facts(contents=mixed_contents()), a_place()
    slip, sheet = slip_of(facts), care_sheet_of(facts, place)
    bodies = (
        *(slip_pdf(slip, page) for page in PageSize),
        *(care_sheet_pdf(sheet, page) for page in PageSize),
        bundle_pdf([slip, sheet]),
        labels_pdf(labels_of(facts), GRIDS["a4-24"], "The Wending Circle"),
        calendar_bytes(a_season()),
        "\n".join(card_of(facts, place)).encode(),
    )
    return [sha256(body).hexdigest() for body in bodies]


def in_another_process(seed, zone):
    script = "from tests.papers.test_same_bytes import fingerprints; print(*fingerprints())"
    made = subprocess.run(
        [sys.executable, "-c", script],
        env=os.environ | {"PYTHONHASHSEED": seed, "TZ": zone, "PYTHONPATH": str(ROOT)},
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=True,
        timeout=60,
    )
    return made.stdout.split()


def test_the_same_facts_give_the_same_bytes_everywhere():
    here = fingerprints()

    assert fingerprints() == here
    assert in_another_process("1", "Pacific/Auckland") == here
    assert in_another_process("2", "America/Los_Angeles") == here
