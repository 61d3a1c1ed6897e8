"""The pages of signing in, seen by a browser."""

import pytest

from tests.app_fixtures import PASSWORD, Visitor
from tests.journeys.live import come_in
from tests.journeys.seeing import faults, low_targets, sideways

pytestmark = pytest.mark.browser


@pytest.mark.parametrize("width", [320, 1280])
@pytest.mark.parametrize("path", ["/sign-in", "/new-password", "/no-such-page"])
def test_a_strangers_page_keeps_nobody_out(page, address, path, width):
    page.set_viewport_size({"width": width, "height": 900})
    page.goto(address + path)

    assert faults(page) == []
    assert sideways(page) <= 0
    assert low_targets(page) == []


def test_a_wrong_password_is_said_in_our_words_and_takes_the_keyboard(page, address):
    page.goto(f"{address}/sign-in")
    page.get_by_label("E-mail address").fill("effie.pellow@example.org")
    page.get_by_label("Password").fill(f"not {PASSWORD}")
    page.get_by_role("button", name="Sign in").click()

    page.get_by_role("alert").wait_for()
    assert page.title().startswith("One thing to put right")
    assert "do not go together" in page.get_by_role("alert").inner_text()
    page.locator(".mistakes:focus").wait_for()
    assert faults(page) == []


def test_larger_text_is_kept_from_page_to_page(page, address, here, circle):
    come_in(page, address, Visitor(here, circle["Effie"]))
    page.goto(f"{address}/todo")
    usual = page.evaluate("getComputedStyle(document.documentElement).fontSize")

    page.get_by_role("button", name="Larger text").first.click()
    page.goto(f"{address}/garden")

    larger = page.evaluate("getComputedStyle(document.documentElement).fontSize")
    assert (usual, larger) == ("19px", "24px")
