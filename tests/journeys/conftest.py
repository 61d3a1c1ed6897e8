"""A browser that looks at served pages: `page`, `serve`; and the pages of a circle at an `address`."""

import shutil
from collections.abc import Callable, Iterator

import pytest
from flask import Flask

from tests.app_fixtures import ring, site
from tests.journeys.live import live

MISSING = "Install Debian's package chromium and the package playwright to look at pages."


@pytest.fixture(scope="session")
def browser() -> Iterator:
    """Debian's Chromium, started once."""
    program = shutil.which("chromium")
    playwright = pytest.importorskip("playwright.sync_api", reason=MISSING)
    if program is None:
        pytest.skip(MISSING)
    with playwright.sync_playwright() as started:
        opened = started.chromium.launch(
            executable_path=program, args=["--no-sandbox", "--headless"]
        )
        yield opened
        opened.close()


@pytest.fixture
def page(browser) -> Iterator:
    """A fresh page with cookies of its own, as wide as a small computer."""
    context = browser.new_context(viewport={"width": 1280, "height": 900})
    yield context.new_page()
    context.close()


@pytest.fixture(scope="module")
def serve() -> Iterator[Callable[[Flask], str]]:
    """Give a function that serves an app and gives its address; all are stopped afterwards."""
    running = []

    def start(app: Flask) -> str:
        server = live(app)
        running.append(server)
        return server.__enter__()

    yield start
    for server in running:
        server.__exit__(None, None, None)


@pytest.fixture(scope="module")
def here(tmp_path_factory):
    with site(tmp_path_factory.mktemp("pages")) as made:
        yield made


@pytest.fixture(scope="module")
def circle(here):
    return ring(here.house)


@pytest.fixture(scope="module")
def address(here, circle, serve):
    """Give where the pages of the circle are served."""
    return serve(here.app)
