"""What every test rests on: no network, no settings from outside, sweeps of a chosen length."""

import ipaddress
import os
import socket
from collections.abc import Callable, Iterator
from typing import Any

import hypothesis
import pytest

TESTED_IN = {
    "app": "web/people/test_sign_in.py",
    "paths": "demo_data/test_demo_people.py",
}
"""Modules without a test file of their own, and the file whose tests use them most."""

FACTOR = float(os.environ.get("EXCHANGE_TEST_SCALE", "1"))

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


@pytest.hookimpl(optionalhook=True)
def pytest_xdist_auto_num_workers(config: pytest.Config) -> int:
    """Give two workers to a run of everything, and none to a part, which would wait for their start."""
    everything = config.args_source is pytest.Config.ArgsSource.TESTPATHS
    chosen = config.option.keyword or config.option.markexpr
    return 2 if everything and not chosen and (os.cpu_count() or 1) > 1 else 0


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
    """Keep the settings of the person running the tests out of them."""
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
def httpserver_listen_address() -> tuple[str, int]:
    """Return where forecast services are faked: by number, since a bare machine cannot resolve names."""
    return ("127.0.0.1", 0)


@pytest.fixture(scope="session")
def kept(tmp_path_factory):
    """Keep a season, built once; tests use copies of it."""
    # Most tests need none, and the first import takes a second.
    from tests.builders.season_kept import keep_season

    return keep_season(tmp_path_factory.mktemp("kept"))


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
