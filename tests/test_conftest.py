"""The ground the tests stand on."""

import re
import shutil
import socket

import pytest

from tests.house import ROOT, run, said

SKIPPED = """
import pytest


@pytest.mark.{mark}
def test_something():
    pytest.skip("not here")
"""
SKIPPED_WHOLE = """
import pytest

pytest.importorskip("no_such_library")


@pytest.mark.{mark}
def test_something():
    raise AssertionError
"""


def test_no_test_reaches_another_machine():
    with pytest.raises(AssertionError, match=r"192\.0\.2\.1"), socket.socket() as line:
        line.connect(("192.0.2.1", 80))


def test_no_test_looks_up_a_name():
    with pytest.raises(AssertionError, match=r"example\.org"):
        socket.getaddrinfo("example.org", 80)


def test_this_machine_can_be_reached():
    with socket.create_server(("127.0.0.1", 0)) as server:
        with socket.create_connection(server.getsockname()) as line:
            reached = line.getpeername()

        assert reached == server.getsockname()


@pytest.mark.parametrize("module", [SKIPPED, SKIPPED_WHOLE], ids=["one test", "whole module"])
@pytest.mark.parametrize("mark", ["browser", "postgresql"])
def test_a_skip_counts_as_a_failure_where_all_tests_are_required(tmp_path, mark, module):
    shutil.copy(ROOT / "tests" / "conftest.py", tmp_path)
    shutil.copy(ROOT / "pyproject.toml", tmp_path)
    (tmp_path / "test_trial.py").write_text(module.format(mark=mark))

    usual = run("pytest", str(tmp_path), at=tmp_path, EXCHANGE_TEST_REQUIRE_ALL="")
    strict = run("pytest", str(tmp_path), at=tmp_path, EXCHANGE_TEST_REQUIRE_ALL="1")

    assert "1 skipped" in usual.stdout, said(usual)
    assert strict.returncode != 0, said(strict)
    assert re.search(r"1 (failed|error)", strict.stdout), said(strict)
