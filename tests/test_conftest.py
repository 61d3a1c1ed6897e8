"""The ground the tests stand on."""

import socket

import pytest


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
