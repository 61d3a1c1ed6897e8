import pytest

from exchange.words.kernel.addresses import only_here, only_there


@pytest.mark.parametrize(
    "address",
    [
        "http://127.0.0.1:8080",
        "http://0.0.0.0:8080",
        "http://localhost",
        "http://[::1]:8080",
        "http://[::]",
    ],
)
def test_what_only_this_machine_can_open_is_said(address):
    assert f"begin with {address}" in only_here(address)
    assert "open only on the machine that runs the circle" in only_there(address)


@pytest.mark.parametrize(
    "address",
    [
        "http://192.168.1.7:8080",
        "https://circle.example",
        "http://[fd00::7]:8080",
        "http://127.example",
    ],
)
def test_what_others_can_open_needs_no_word(address):
    assert only_here(address) == only_there(address) == ""
