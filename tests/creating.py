"""Which routes write down something new, found from the syntax tree: the forms that create.

A route creates when its view reaches, by calls that its own module and others name, the `add` of a
repository. Calls are followed by name, as `tests/functions.py` says; acts that a view hands on as values are
seen where they stand in the view.
"""

import ast
from collections.abc import Mapping

from flask import Flask

from tests.functions import ACTIONS, Program
from tests.house import ROOT

OF_ITS_OWN_ACCORD = frozenset(
    {"DEEDS", "DIARY", "LETTERS", "MERGERS", "PARCEL_LINES", "FAULTS", "TASKS"}
)
"""What the program writes of its own accord: nobody entered it, and nobody has to mend it."""

GATHERING = "exchange.actions.posting.replan.gather"
"""The step that brings parcels in line with what was given; they are planned, not entered."""
ADDS = frozenset({"add", "add_all"})
"""Methods of a repository that write a new row."""


def created_by(program: Program) -> Mapping[str, frozenset[str]]:
    """Give what each function adds, itself or by what it calls [function -> repositories]."""
    calls = {
        name: [node for node in ast.walk(function) if isinstance(node, ast.Call)]
        for name, function in program.functions.items()
    }
    calls[GATHERING] = []
    found = {name: frozenset(filter(None, map(_added, own))) for name, own in calls.items()}
    changed = True
    while changed:
        changed = False
        for name, own in calls.items():
            module = program.module_of(name)
            more = found[name].union(
                *(found.get(program.called(module, call) or "", frozenset()) for call in own)
            )
            if more != found[name]:
                found[name], changed = more, True
    return found


def _added(call: ast.Call) -> str | None:
    function = call.func
    if not (isinstance(function, ast.Attribute) and function.attr in ADDS):
        return None
    owner = ast.unparse(function.value).split(".")[-1]
    return owner if owner.isupper() and owner not in OF_ITS_OWN_ACCORD else None


def creating_routes(app: Flask) -> Mapping[str, frozenset[str]]:
    """Give the routes that take a form and create something [endpoint -> repositories]."""
    created = created_by(Program.of(ACTIONS, ROOT / "exchange" / "web"))
    found = {}
    for rule in app.url_map.iter_rules():
        view = app.view_functions[rule.endpoint]
        adds = created.get(f"{view.__module__}.{view.__name__}", frozenset())
        if "POST" in (rule.methods or ()) and adds:
            found[rule.endpoint] = adds
    return found
