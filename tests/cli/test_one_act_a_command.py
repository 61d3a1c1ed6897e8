"""A command calls one act, as a view does: what it tells is read in the state the act leaves.

The door is opened before: whether the records are there and up to date, and who acts.
"""

import ast

import pytest

from tests.callers import Callers
from tests.functions import ACTIONS, Program
from tests.house import ROOT

BEFORE = ("exchange.cli.house.", "exchange.cli.season.working_actor")
SEVERAL = {
    "demo.demo": "does what many members would do, one after the other",
}
"""Commands that call more than one act, each with its reason."""


def is_command(node):
    return any(
        isinstance(each, ast.Call) and ast.unparse(each.func).split(".")[-1] == "command"
        for each in node.decorator_list
    )


@pytest.fixture(scope="module")
def commands():
    return Callers(
        Program.of(ACTIONS, ROOT / "exchange" / "cli"), "exchange.cli.", is_command, BEFORE
    )


def test_no_command_calls_more_than_one_act(commands):
    assert commands.too_many() == SEVERAL.keys()


def test_the_commands_are_seen(commands):
    assert len(commands.doors()) > 10
    assert commands.acts_in("exchange.cli.season.plan") == 1
    assert commands.acts_in("exchange.cli.share_out.confirm") == 1
