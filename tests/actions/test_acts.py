"""An act opens the database once and calls steps; no act calls an act.

An act is a function of the actions that opens the database, itself or by what it calls. On any one
path through it, it opens it once, or calls one act: then it is that act in other words. The demo
is left out: it does what many members would do, one act after another.

Calls are followed by name. What is called by way of an attribute (`watch()`, `question.act()`) is not
seen here; `tests/one_transaction.py` counts what is written while the tests run.
"""

import ast
from functools import partial

import pytest

from tests.flow import most_on_one_way
from tests.functions import ACTIONS, Program, acts_of, opens

SEVERAL = {
    "circle.spreadsheets.answer": "reads the file without a lock, then records what was understood",
    "circle.spreadsheets.hand_in": "reads the file without a lock, then records what was understood",
    "circle.spreadsheets.read_spreadsheet": "reads a long file without a lock, then records",
    "kernel.letters.send_waiting": "talks to a mail server between taking a letter and marking it",
    "kernel.same_facts.on_same_facts": "looks without a lock, then records; again when facts moved",
    "kernel.tasks.run_one": "does the work between claiming a task and ending it",
    "posting.calendars.calendar_at": "serves a calendar though the books are too busy for its note",
    "posting.replan.replan_then": "weighs without a lock, then records; again when facts moved",
    "posting.ways.ways_page": "reads without a lock; writes only where a packaged way is missing",
    "sharing.explanation.explain": "solves without a lock, then keeps the explanation",
    "sharing.reserve.give_from_reserve": "solves without a lock, then records",
    "sharing.share_out._work_out": "solves for minutes without a lock, then records",
    "sharing.share_out.share_out_now": "opens a share-out, then works it out without a lock",
    "weather.forecast_verification.keep_shift": "refits without a lock, then records",
    "weather.forecast_verification.keep_spread": "refits without a lock, then records",
    "weather.forecasts.fetch_forecasts": "asks services for minutes, then records",
    "weather.frost_tonight.tell_frost": "reckons every place without a lock, then writes letters",
}
"""Acts that open the database more than once, each with its reason."""


def too_many(program):
    """Give the acts that open the database more than once, or open it and also call acts."""
    acts = acts_of(program)
    return {
        name.removeprefix("exchange.actions.")
        for name in acts
        if most_on_one_way(program.functions[name], partial(weight, program, acts, name)) > 1
    }


def weight(program, acts, name, call):
    return opens(call) or program.called(program.module_of(name), call) in acts


@pytest.fixture(scope="module")
def actions():
    program = Program.of(ACTIONS)
    trees = {m: t for m, t in program.trees.items() if not m.startswith("exchange.actions.demo")}
    return Program(trees)


def test_no_act_calls_an_act(actions):
    assert too_many(actions) == SEVERAL.keys()


def test_the_acts_are_seen(actions):
    acts = acts_of(actions)

    assert len(acts) > 100
    assert {
        "exchange.actions.people.joining.join",
        "exchange.actions.kernel.tasks.Watch.__call__",
    } <= acts
    assert "exchange.actions.people.joining.record_joining" not in acts


STEPS = """
from exchange.actions.one import change, look

def record(tx): tx.add()
def whole(actor):
    with actor.books.writing() as tx:
        record(tx)
def same_in_other_words(house, wanted):
    if wanted:
        return look(house)
    return change(house)
"""
BROKEN = {
    "acts_within_an_act": "with actor.books.writing() as tx: look(actor)",
    "one_after_another": "look(actor); change(actor)",
    "opens_again": "with actor.books.reading() as tx: pass\n    with actor.books.writing() as tx: pass",
    "by_a_helper": "_opening(actor); look(actor)",
    "in_a_loop": "for one in actor: change(one)",
    "in_a_list": "return [change(one) for one in actor]",
}


def small(text):
    one = "def change(h):\n    with h.books.writing(): ...\ndef look(h):\n    with h.books.reading(): ...\n"
    return Program(
        {"exchange.actions.one": ast.parse(one), "exchange.actions.two": ast.parse(text)}
    )


def test_a_wrapper_and_an_act_with_steps_are_whole():
    assert too_many(small(STEPS)) == set()


@pytest.mark.parametrize("name", BROKEN)
def test_an_act_that_is_not_one_is_seen(name):
    helper = "def _opening(actor):\n    with actor.house.books.reading(): ...\n"
    text = f"{STEPS}\n{helper}\ndef {name}(actor):\n    {BROKEN[name]}\n"

    assert too_many(small(text)) == {f"two.{name}"}
