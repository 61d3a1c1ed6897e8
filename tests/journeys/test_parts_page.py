"""Every part of the look, seen by a browser."""

import pytest

from tests.builders.parts_app import parts_app
from tests.journeys.seeing import faults, low_targets, open_all, sideways

pytestmark = pytest.mark.browser

WIDTHS = (320, 768, 1280)


@pytest.fixture(scope="module")
def address(serve):
    return serve(parts_app())


@pytest.mark.parametrize("light", ["light", "dark"])
@pytest.mark.parametrize("width", [320, 1280])
def test_nothing_keeps_anybody_out(page, address, width, light):
    page.set_viewport_size({"width": width, "height": 900})
    page.emulate_media(color_scheme=light)
    page.goto(f"{address}/parts/")
    open_all(page)

    assert faults(page) == []


@pytest.mark.parametrize("asked", ["/parts/", "/parts/?organiser=1", "/parts/?larger=1"])
@pytest.mark.parametrize("width", WIDTHS)
def test_no_page_is_wider_than_its_window(page, address, width, asked):
    page.set_viewport_size({"width": width, "height": 900})
    page.goto(address + asked)
    open_all(page)

    assert sideways(page) <= 0


def test_paper_is_read_on_the_screen_too(page, address):
    page.set_viewport_size({"width": 320, "height": 900})
    page.goto(f"{address}/parts/paper")

    assert faults(page) == []
    assert sideways(page) <= 0


@pytest.mark.parametrize("width", WIDTHS)
def test_what_is_pressed_is_as_high_as_a_finger(page, address, width):
    page.set_viewport_size({"width": width, "height": 900})
    page.goto(f"{address}/parts/")

    assert low_targets(page) == []


@pytest.mark.parametrize("light", ["light", "dark"])
def test_the_keyboard_shows_where_it_is(page, address, light):
    page.emulate_media(color_scheme=light)
    page.goto(f"{address}/parts/")
    page.evaluate("document.activeElement.blur()")
    unseen, places = [], set()

    for _press in range(40):
        page.keyboard.press("Tab")
        place, width, colour, ground = page.evaluate(
            """() => { const one = document.activeElement, look = getComputedStyle(one);
            return [one.outerHTML.slice(0, 120), parseFloat(look.outlineWidth), look.outlineColor,
                getComputedStyle(document.body).backgroundColor] }"""
        )
        places.add(place)
        if width < 3 or colour == ground:
            unseen.append(place)

    assert unseen == []
    assert len(places) > 15


def test_the_policy_stops_nothing_of_ours(page, address):
    complaints = []
    page.on("console", lambda said: complaints.append(said.text))

    page.goto(f"{address}/parts/")

    assert [said for said in complaints if "favicon" not in said and "404" not in said] == []
    assert page.locator("[data-print]:visible").count() == 1


def test_every_part_shows_without_scripts(browser, address):
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto(f"{address}/parts/")

    assert page.locator(".press:visible").count() > 5
    assert page.locator("[data-print]:visible").count() == 0
    context.close()


def test_a_wide_page_shows_the_wide_drawings_and_a_narrow_one_the_narrow(page, address):
    page.goto(f"{address}/parts/")
    wide = page.locator("#nights-wide").is_visible(), page.locator("#nights-narrow").is_visible()
    page.set_viewport_size({"width": 320, "height": 900})
    narrow = page.locator("#nights-wide").is_visible(), page.locator("#nights-narrow").is_visible()

    assert wide == (True, False)
    assert narrow == (False, True)


def test_printed_it_is_black_on_white_with_a_box_for_each_task(page, address):
    page.emulate_media(media="print", color_scheme="dark")
    page.goto(f"{address}/parts/")

    assert page.evaluate("getComputedStyle(document.body).backgroundColor") == "rgb(255, 255, 255)"
    assert not page.locator(".pages").is_visible()
    assert page.locator(".task .act").first.bounding_box()["width"] < 45
