"""What every test stands on: no network, no settings from outside, sweeps of a chosen length."""

import ipaddress
import os
import shutil
import socket
from collections.abc import Callable, Iterator
from typing import Any

import hypothesis
import pytest

FACTOR = float(os.environ.get("EXCHANGE_TEST_SCALE", "1"))
REQUIRE_ALL = os.environ.get("EXCHANGE_TEST_REQUIRE_ALL", "") not in ("", "0")
NEVER_SKIPPED = ("browser", "postgresql")

hypothesis.settings.register_profile(
    "exchange",
    derandomize=True,
    deadline=None,
    database=None,
    max_examples=max(1, round(50 * FACTOR)),
)
hypothesis.settings.load_profile("exchange")


class NetworkReachedError(AssertionError):
    """A test tried to leave the machine."""


@pytest.fixture(scope="session", autouse=True)
def _no_network() -> Iterator[None]:
    """Let tests speak to this machine only."""
    patch = pytest.MonkeyPatch()
    for name in ("connect", "connect_ex"):
        patch.setattr(socket.socket, name, _guarded(getattr(socket.socket, name)))
    patch.setattr(socket, "getaddrinfo", _guarded_look_up(socket.getaddrinfo))
    yield
    patch.undo()


@pytest.fixture(scope="session", autouse=True)
def _no_settings_from_outside() -> Iterator[None]:
    """Settings of the person who runs the tests must not reach them."""
    patch = pytest.MonkeyPatch()
    for name in list(os.environ):
        if name.startswith("EXCHANGE_") and not name.startswith("EXCHANGE_TEST_"):
            patch.delenv(name)
    yield
    patch.undo()


@pytest.fixture(scope="session")
def scale() -> Callable[[int], int]:
    """Return how long a sweep is to be: the usual length times EXCHANGE_TEST_SCALE, at least 1."""
    return lambda usual: max(1, round(usual * FACTOR))


@pytest.fixture(scope="session")
def kept(tmp_path_factory):
    """Keep a season, built once, of which tests use copies."""
    # Most tests need none, and the first import takes a second.
    from tests.builders.season_kept import keep_season

    return keep_season(tmp_path_factory.mktemp("kept"))


@pytest.fixture(scope="session")
def chromium() -> str:
    """Return where Debian's browser lies."""
    found = shutil.which("chromium")
    if found is None:
        pytest.skip("Tests of pages in a browser need Chromium: apt-get install chromium.")
    return found


@pytest.fixture(scope="session")
def postgresql_address() -> str:
    """Return the address of the PostgreSQL database that tests may fill and empty."""
    address = os.environ.get("EXCHANGE_TEST_POSTGRESQL", "")
    if not address:
        pytest.skip(
            "Tests on PostgreSQL need a database: apt-get install postgresql, then set"
            " EXCHANGE_TEST_POSTGRESQL=postgresql+psycopg://..., or start .ci/run."
        )
    return address


@pytest.hookimpl(wrapper=True)
def pytest_runtest_makereport(item: pytest.Item) -> Any:
    """Turn a skip that must not happen into a failure, where all tests are required."""
    report = yield
    if REQUIRE_ALL and report.skipped and not hasattr(report, "wasxfail"):
        marks = [mark for mark in NEVER_SKIPPED if item.get_closest_marker(mark)]
        if marks:
            report.outcome = "failed"
            report.longrepr = f"A {marks[0]} test was skipped, and all are required: {item.nodeid}"
    return report


@pytest.hookimpl(wrapper=True)
def pytest_make_collect_report(collector: pytest.Collector) -> Any:
    """Turn the skip of a whole module that holds such tests into a failure, too."""
    report = yield
    if REQUIRE_ALL and report.skipped:
        text = collector.path.read_text(encoding="utf-8")
        marks = [mark for mark in NEVER_SKIPPED if f"mark.{mark}" in text]
        if marks:
            report.outcome = "failed"
            report.longrepr = f"All {marks[0]} tests of {collector.nodeid} were skipped."
    return report


def _guarded(connect: Callable[..., Any]) -> Callable[..., Any]:
    def guarded(self: socket.socket, address: Any) -> Any:
        if self.family in (socket.AF_INET, socket.AF_INET6) and not _is_here(address[0]):
            raise NetworkReachedError(f"A test tried to reach {address[0]}.")
        return connect(self, address)

    return guarded


def _guarded_look_up(look_up: Callable[..., Any]) -> Callable[..., Any]:
    def guarded(host: Any, *args: Any, **kwargs: Any) -> Any:
        if host is not None and not _is_here(host):
            raise NetworkReachedError(f"A test tried to look up {host}.")
        return look_up(host, *args, **kwargs)

    return guarded


def _is_here(host: str | bytes) -> bool:
    name = host.decode() if isinstance(host, bytes) else host
    if name in ("", "localhost"):
        return True
    try:
        address = ipaddress.ip_address(name.split("%", maxsplit=1)[0])
    except ValueError:
        return False
    return address.is_loopback or address.is_unspecified
