import pytest

from exchange.web.frame.after_press import own_path


@pytest.mark.parametrize("path", ["/", "/todo", "/parcels/7?day=2027-04-19#why"])
def test_a_path_of_this_house_is_led_back_to(path):
    assert own_path(path, "/todo") == path


@pytest.mark.parametrize(
    "path",
    [
        "",
        "parcels",
        "http://elsewhere.example/",
        "//elsewhere.example/",
        "/\\elsewhere.example/",
        "/parcels\r\nLocation: http://elsewhere.example/",
        "/\t/elsewhere.example/",
        "javascript:alert(1)",
    ],
)
def test_nothing_leads_elsewhere(path):
    assert own_path(path, "/todo") == "/todo"
