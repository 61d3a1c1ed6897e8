"""For tests of editing forms: the version a page carries, and two edits of the same thing."""

import re
from typing import Any

from werkzeug.test import TestResponse

from tests.app_fixtures import Visitor


def version_in(page: TestResponse, form: str = "") -> str:
    """Give the version a page's form carries; `form` is its address where a page has several."""
    text = page.text[page.text.index(f'action="{form}"') :] if form else page.text
    found = re.search(r'name="version"[^>]*value="([^"]*)"', text)
    assert found, "the page has a form with a version"
    return found.group(1)


def edited_by_two(
    visitors: tuple[Visitor, Visitor],
    page: str,
    first: dict[str, Any],
    second: dict[str, Any],
    to: str = "",
) -> TestResponse:
    """Let two open the same form and keep it one after the other; give what the second is told.

    Parameters
    ----------
    page : where the form is opened
    to : where it is sent, if not there
    """
    one, other = visitors
    opened = version_in(one.get(page), to)
    kept = other.post(to or page, {**first, "version": opened})
    assert kept.status_code == 303, "the first edit is kept"
    return one.post(to or page, {**second, "version": opened})
