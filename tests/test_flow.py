"""The most on any one path through a function, tried on small functions."""

import ast

import pytest

from tests.flow import most_on_one_way

FUNCTIONS = {
    "act()\nact()": 2,
    "if act(): act()\nelse: other()": 2,
    "if first: act()\nelif second: act()\nelse: return act()\nact()": 2,
    "if first: return act()\nact()": 1,
    "if first: abort(act())\nact()": 1,
    "match what:\n  case 1: act()\n  case _: act(); act()": 2,
    "match what:\n  case 1: return act()\nreturn act()": 1,
    "for one in act(): other()": 1,
    "for one in many: act()": 2,
    "for one in many: return act()": 1,
    "while act(): other()": 2,
    "for one in many: other()\nelse: act()": 1,
    "return act() if first else act()": 1,
    "return act(act())": 2,
    "return [act() for one in act()]": 3,
    "later = lambda: act()\nact()": 1,
    "def later(): act()\nact()": 1,
    "with act(): act()": 2,
    "with refusals_told():\n  act()\n  return\nact()": 1,
    "with refusals_told():\n  if first: act()\n  else: return\nact()": 2,
    "try:\n  act()\nexcept E:\n  act()": 1,
    "try:\n  act()\nexcept E:\n  raise\nact()": 2,
    "try:\n  act()\nfinally:\n  act()": 2,
}


@pytest.mark.parametrize("body", FUNCTIONS)
def test_the_most_on_one_way(body):
    lines = "\n    ".join(body.splitlines())
    (function,) = ast.parse(f"def f():\n    {lines}\n").body

    assert most_on_one_way(function, lambda call: call.func.id == "act") == FUNCTIONS[body]
