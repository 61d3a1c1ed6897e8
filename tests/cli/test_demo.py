"""The demo's command: what it refuses, and that what it serves can be signed in to."""

import re
import signal
import socket
import subprocess
import sys
import time
from pathlib import Path
from urllib.error import URLError
from urllib.request import urlopen

import pytest
from click.testing import CliRunner

from exchange.cli import main
from exchange.paths import DEMO_DATA

FORECAST = str(DEMO_DATA / "forecast.json")


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("--once",), "--once and --out"),
        (("--out", "somewhere"), "--once and --out"),
        (("--once", "--out", "x", "--no-forecast", "--forecast", FORECAST), "not both"),
        (("--once", "--out", "x", "--forecast", "no-such-file.json"), "no-such-file.json"),
        (("--never",), "--never"),
    ],
)
def test_a_mistake_in_the_call_has_status_two_and_says_which(words, said):
    result = CliRunner().invoke(main, ["demo", *words])

    assert result.exit_code == 2
    assert said in result.stderr
    assert result.stdout == ""


def test_a_folder_that_cannot_be_written_ends_in_a_sentence(tmp_path):
    in_the_way = tmp_path / "file"
    in_the_way.write_text("in the way")

    result = CliRunner().invoke(main, ["demo", "--once", "--out", str(in_the_way / "season")])

    assert result.exit_code == 1
    assert "Cannot write to" in result.stderr
    assert result.stdout == ""


def test_served_it_gives_three_links_that_sign_in():
    with socket.create_server(("127.0.0.1", 0)) as free:
        port = free.getsockname()[1]
    program = Path(sys.executable).parent / "exchange"
    with subprocess.Popen(
        [str(program), "demo"],
        env={"EXCHANGE_PORT": str(port), "PATH": "/usr/bin:/bin", "PYTHONUNBUFFERED": "1"},
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
    ) as running:
        try:
            told = _until(running, "End with Ctrl+C")
            links = re.findall(r"http://\S+/sign-in-by-mail/\S+", told)
            page = _page(links[0])
        finally:
            running.send_signal(signal.SIGINT)
            try:
                running.communicate(timeout=60)
            except subprocess.TimeoutExpired:
                running.kill()
                raise

    assert "Monday 5 April 2027" in told
    assert len(links) == len(set(links)) == 3
    assert "organiser" in told
    assert "Sign me in" in page


def _until(running, words: str) -> str:
    told = ""
    for line in running.stdout:
        told += line
        if words in line:
            return told
    raise AssertionError(told + running.stderr.read())


def _page(url: str) -> str:
    for _try in range(50):
        try:
            with urlopen(url, timeout=10) as answer:
                return answer.read().decode()
        except URLError:
            time.sleep(0.2)
    raise AssertionError(f"nothing answers at {url}")
