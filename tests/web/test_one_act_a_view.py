"""A view calls one act: what a page reads is read in one state, what a press writes is one deed.

On any one path through a view it calls at most one act; what it calls of `exchange/web` is followed,
in its own module and others. After a refused act counting begins again: nothing of it was
kept, and the page is read to be shown again (`tests/flow.py` says what counts as caught). Functions
given as values are not followed: `both_shown` reads what stands only where an edit was refused. Who
is signed in, and where they stand, is found out before any view and does not count.
"""

import ast

import pytest

from tests.callers import Callers
from tests.functions import ACTIONS, Program
from tests.house import ROOT

WEB = ROOT / "exchange" / "web"
BEFORE_ANY_VIEW = ("exchange.web.frame.session.",)
SEVERAL: dict[str, str] = {}
"""Views that call more than one act, each with its reason."""


def _is_view(node):
    return any(
        isinstance(each, ast.Call)
        and ast.unparse(each.func) in {f"blueprint.{kind}" for kind in ("get", "post", "route")}
        for each in node.decorator_list
    )


def pages_of(program):
    return Callers(program, "exchange.web.", _is_view, BEFORE_ANY_VIEW)


@pytest.fixture(scope="module")
def pages():
    return pages_of(Program.of(ACTIONS, WEB))


def test_no_view_calls_more_than_one_act(pages):
    assert pages.too_many() == SEVERAL.keys()


def test_the_views_are_seen(pages):
    views = pages.doors()

    assert len(views) > 140
    assert sum(pages.acts_in(name) for name in views) > 120
    assert pages.acts_in("exchange.web.people.joining.take") == 1


ONE = {
    "either": "if first: return look(actor)\n    return change(actor)",
    "refused_and_read_again": """
    with refusals_beside(form):
        change(actor)
        return "kept"
    return _page(actor)""",
    "caught_and_read_again": """
    try:
        done = change(actor)
    except RefusedError:
        return _page(actor)
    return done""",
    "as_a_value": "change(actor)\n    both_shown(form, lambda: look(actor))",
}
SEVERAL_ACTS = {
    "read_and_written": "page = _page(actor)\n    change(actor)",
    "read_after_it_was_kept": "with refusals_beside(form): change(actor)\n    return _page(actor)",
    "read_before_it_is_refused": """
    with refusals_beside(form):
        look(actor)
        change(actor)
        return "kept"
    return _page(actor)""",
    "in_another_module": "change(actor)\n    shown(actor)",
}


def small(body):
    acts = (
        "def change(a):\n    with a.books.writing(): ...\n"
        "def look(a):\n    with a.books.reading(): ...\n"
    )
    shared = "from exchange.actions.one import look\ndef shown(actor): return look(actor)\n"
    view = (
        "from exchange.actions.one import change, look\n"
        "from exchange.web.shared import shown\n"
        "def _page(actor): return look(actor)\n"
        f"@blueprint.post('/')\ndef press(actor):\n    {body}\n"
    )
    texts = {"exchange.actions.one": acts, "exchange.web.shared": shared, "exchange.web.page": view}
    return pages_of(Program({name: ast.parse(text) for name, text in texts.items()}))


@pytest.mark.parametrize("name", ONE)
def test_one_act_on_any_one_way_is_one(name):
    assert small(ONE[name]).too_many() == set()


@pytest.mark.parametrize("name", SEVERAL_ACTS)
def test_several_acts_on_one_way_are_seen(name):
    assert small(SEVERAL_ACTS[name]).too_many() == {"page.press"}
