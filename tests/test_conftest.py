"""What every test rests on works."""

import socket
from types import SimpleNamespace

import pytest

from tests.conftest import pytest_xdist_auto_num_workers

ArgsSource = pytest.Config.ArgsSource


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


@pytest.mark.parametrize(
    ("source", "keyword", "cores", "workers"),
    [
        (ArgsSource.TESTPATHS, "", 2, 2),
        (ArgsSource.TESTPATHS, "", 1, 0),
        (ArgsSource.TESTPATHS, "frost", 2, 0),
        (ArgsSource.ARGS, "", 2, 0),
    ],
)
def test_only_a_run_of_everything_has_workers(source, keyword, cores, workers, monkeypatch):
    monkeypatch.setattr("os.cpu_count", lambda: cores)
    option = SimpleNamespace(keyword=keyword, markexpr="")

    given = pytest_xdist_auto_num_workers(SimpleNamespace(args_source=source, option=option))

    assert given == workers
