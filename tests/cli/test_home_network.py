"""Serving on the home network: the address printed is one others can open, with its picture."""

import socket
import sys

import pytest
from click.testing import CliRunner

from exchange.cli import home_network, main
from exchange.cli.home_network import EVERYWHERE, at_home, home_address
from exchange.cli.serve import _where
from exchange.settings import Settings


@pytest.fixture
def found(monkeypatch):
    monkeypatch.setattr(home_network, "home_address", lambda: "192.168.1.7")


@pytest.fixture
def nowhere(monkeypatch):
    monkeypatch.setattr(home_network, "home_address", lambda: None)


def test_links_begin_with_the_address_at_home_and_all_addresses_are_listened_to(found):
    settings = at_home(Settings(port=8081))

    assert (settings.host, settings.address) == (EVERYWHERE, "http://192.168.1.7:8081")


def test_a_public_address_stays(found):
    settings = at_home(Settings(public_url="https://circle.example"))

    assert (settings.host, settings.address) == (EVERYWHERE, "https://circle.example")


def test_without_a_network_it_stays_on_this_machine_and_says_so(nowhere, tmp_path):
    settings = at_home(Settings())
    words = ["--folder", str(tmp_path), "init", "--circle", "Ours", "--organiser", "Ada"]
    assert CliRunner().invoke(main, [*words, "--email", "ada@example.org"]).exit_code == 0

    refused = CliRunner().invoke(main, ["--folder", str(tmp_path), "serve", "--home"])

    assert (settings.host, settings.address) == ("127.0.0.1", "http://127.0.0.1:8080")
    assert refused.exit_code == 1
    assert "on no network just now" in refused.stderr


@pytest.mark.parametrize("own", ["127.0.0.1", EVERYWHERE])
def test_an_address_nobody_else_can_open_is_none(monkeypatch, own):
    class Line:
        def __init__(self, *_kind): ...
        def __enter__(self):
            return self

        def __exit__(self, *_why): ...
        def connect(self, _to): ...
        def getsockname(self):
            return own, 0

    monkeypatch.setattr(socket, "socket", Line)

    assert home_address() is None


def test_served_for_this_machine_alone_it_says_why_nobody_else_can_open_it():
    said = _where(Settings())

    assert said.startswith("The pages are at http://127.0.0.1:8080.")
    assert "exchange serve --home" in said


def test_served_at_home_the_address_is_shown_as_a_picture_at_a_terminal_only(monkeypatch, found):
    settings = at_home(Settings())
    for at_terminal in (True, False):
        monkeypatch.setattr(sys.stdout, "isatty", lambda shown=at_terminal: shown)

        said = _where(settings)

        assert said.startswith("The pages are at http://192.168.1.7:8080.")
        assert ("\u2588" in said) is at_terminal
