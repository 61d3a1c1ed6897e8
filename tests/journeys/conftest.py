"""A browser that looks at served pages: `page`, `serve`; and the pages of a circle at an `address`."""

from collections.abc import Callable, Iterator

import pytest
from flask import Flask
from playwright.sync_api import sync_playwright

from tests.app_fixtures import ring, site
from tests.journeys.live import live
from tests.programs import program


@pytest.fixture(scope="session")
def browser() -> Iterator:
    """Debian's Chromium, started once."""
    chromium = program("chromium")
    with sync_playwright() as started:
        opened = started.chromium.launch(
            executable_path=chromium, args=["--no-sandbox", "--headless"]
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
