"""How many pages and presses a new organiser needs, from `exchange init` to a confirmed share-out among ten."""

from collections.abc import Iterator
from pathlib import Path
from tempfile import TemporaryDirectory

from playwright.sync_api import sync_playwright

from tests.benchmarks.figure import Figure
from tests.journeys.first_hour import own_circle, to_a_confirmed_share_out
from tests.programs import program

MOST_PAGES = 60
"""Pages the first hour may take (judgement) [pages]."""

MOST_PRESSES = 100
"""Presses it may take: most answer, once for each new name, whether it is new (judgement) [presses]."""


def figures() -> Iterator[Figure]:
    with (
        TemporaryDirectory() as folder,
        own_circle(Path(folder) / "ours") as link,
        sync_playwright() as started,
    ):
        browser = started.chromium.launch(
            executable_path=program("chromium"), args=["--no-sandbox", "--headless"]
        )
        walk = to_a_confirmed_share_out(browser.new_page(), link)
        browser.close()
    yield Figure("first hour: pages, 10 members", walk.loads, MOST_PAGES, 1.0, "pages")
    yield Figure("first hour: presses, 10 members", walk.presses, MOST_PRESSES, 1.0, "presses")
