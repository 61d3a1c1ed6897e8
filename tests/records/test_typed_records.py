"""What is written to the records and asked of them is type-checked before it runs."""

import ast
import re
from pathlib import Path

import pytest

from tests.house import PACKAGE, ROOT, module_name, python_files, run, said, tree_of

MISTAKES = Path(__file__).with_name("seeded_mistakes.py")
ENUMERATED = {"state", "kind", "carriage"}
ASKING = {"add", "find", "all", "by_id", "change", "heads"}
UNTYPED = {"Any", "object", "dict", "Mapping", "MutableMapping", "Dict"}


def test_each_seeded_mistake_is_refused_and_nothing_else():
    result = run("mypy", "--strict", str(MISTAKES.relative_to(ROOT)))

    refused = {
        int(found[1]) for found in re.finditer(rf"{MISTAKES.name}:(\d+): error", result.stdout)
    }
    lines = MISTAKES.read_text(encoding="utf-8").splitlines()
    seeded = {number for number, line in enumerate(lines, 1) if line.endswith("# mistake")}

    assert len(seeded) == 26
    assert refused == seeded, said(result)


@pytest.mark.parametrize(("room", "refused"), [("actions", True), ("records", False)])
def test_only_the_records_reach_into_a_transaction(room, refused):
    line = (
        "from exchange.records import Tx\n\n\ndef act(tx: Tx) -> None:\n    tx._session.flush()\n"
    )
    place = f"exchange/{room}/trial.py"
    result = run("ruff", "check", "--select", "SLF001", "--stdin-filename", place, "-", given=line)

    assert ("SLF001" in result.stdout) is refused, said(result)


def test_a_state_is_compared_with_a_member_of_its_enumeration():
    assert _everywhere(_literals_compared) == []


def test_columns_handed_on_together_are_named_by_a_type():
    assert _everywhere(_untyped_columns) == []


@pytest.mark.parametrize(
    "line",
    [
        "found = row.state == 'open'",
        "found = 'open' != row.state",
        "found = row.kind in ('care', 'posting')",
        "found = way.carriage not in {'by_hand'}",
        "match row.state:\n    case 'open':\n        pass",
        "match row.state:\n    case 'open' | 'worked_out':\n        pass",
    ],
)
def test_a_literal_beside_a_state_is_found(line):
    assert len(_literals_compared(ast.parse(line))) == 1


@pytest.mark.parametrize(
    "function",
    [
        "def act(tx, **where: Any):\n    return SPARES.all(tx, 1, **where)",
        "def act(tx, **columns: object):\n    circles.change(tx, 1, **columns)",
        "def act(tx):\n    own: dict[str, Any] = {}\n    PLACES.all(tx, 1, **own)",
        "def act(tx):\n    own = {'household_id': 1}\n    PLACES.all(tx, 1, **own)",
        "def act(tx):\n    PLACES.all(tx, 1, **{'household_id': 1})",
        "def said() -> dict[str, object]: ...\ndef act(tx):\n    PLACES.add(tx, 1, **said())",
        "def said(): ...\ndef act(tx):\n    columns = said()\n    PLACES.add(tx, 1, **columns)",
    ],
)
def test_columns_without_a_type_are_found(function):
    assert len(_untyped_columns(ast.parse(function))) == 1


@pytest.mark.parametrize(
    "function",
    [
        "def act(tx, **where: Unpack[SpareWhere]):\n    return SPARES.all(tx, 1, **where)",
        "def act(tx):\n    own: PlaceWhere = {}\n    PLACES.all(tx, 1, **own)",
        "def said() -> Said: ...\ndef act(tx):\n    PLACES.add(tx, 1, **said())",
        "def said() -> Said: ...\ndef act(tx):\n    columns = said()\n    PLACES.add(tx, 1, **columns)",
    ],
)
def test_columns_with_a_type_pass(function):
    assert _untyped_columns(ast.parse(function)) == []


def _everywhere(find) -> list[str]:
    return [
        f"{module_name(path)}:{line}"
        for path in python_files(PACKAGE)
        for line in find(tree_of(path))
    ]


def _literals_compared(tree: ast.AST) -> list[int]:
    found = []
    for node in ast.walk(tree):
        if isinstance(node, ast.Compare):
            sides = [node.left, *node.comparators]
            if any(map(_is_enumerated, sides)) and any(map(_is_literal, sides)):
                found.append(node.lineno)
        elif isinstance(node, ast.Match) and _is_enumerated(node.subject):
            found += [case.pattern.lineno for case in node.cases if _matches_literal(case.pattern)]
    return found


def _is_enumerated(node: ast.AST) -> bool:
    return isinstance(node, ast.Attribute) and node.attr in ENUMERATED


def _is_literal(node: ast.AST) -> bool:
    if isinstance(node, ast.Tuple | ast.List | ast.Set):
        return any(map(_is_literal, node.elts))
    return isinstance(node, ast.Constant) and isinstance(node.value, str)


def _matches_literal(pattern: ast.pattern) -> bool:
    return any(
        isinstance(one, ast.MatchValue) and _is_literal(one.value) for one in ast.walk(pattern)
    )


def _untyped_columns(tree: ast.Module) -> list[int]:
    """Give the lines of calls of the records that pass on columns without a type."""
    gives = {one.name: one.returns for one in ast.walk(tree) if isinstance(one, ast.FunctionDef)}
    return [
        call.lineno
        for function in ast.walk(tree)
        if isinstance(function, ast.FunctionDef)
        for call in ast.walk(function)
        if isinstance(call, ast.Call) and _asks_records(call)
        for part in call.keywords
        if part.arg is None and not _is_typed(part.value, function, gives)
    ]


def _asks_records(call: ast.Call) -> bool:
    match call.func:
        case ast.Attribute(attr=act, value=ast.Name(id=name)) if act in ASKING:
            return name.isupper() or name in {"circles", "parcel_heads"}
    return False


def _is_typed(columns: ast.expr, function: ast.FunctionDef, gives: dict) -> bool:
    """Say whether columns come from a name or a function with a declared type."""
    match columns:
        case ast.Call(func=ast.Name(id=name)):
            return _names_a_type(gives.get(name))
        case ast.Name(id=name):
            return any(
                _names_a_type(one.annotation)
                if isinstance(one, ast.AnnAssign | ast.arg)
                else _is_typed(one.value, function, gives)
                for one in ast.walk(function)
                if _binds(one, name)
            )
    return False


def _binds(node: ast.AST, name: str) -> bool:
    match node:
        case ast.AnnAssign(target=ast.Name(id=bound)) | ast.arg(arg=bound):
            return bound == name
        case ast.Assign(targets=[ast.Name(id=bound)], value=ast.Call()):
            return bound == name
    return False


def _names_a_type(annotation: ast.expr | None) -> bool:
    named = (
        [one.id for one in ast.walk(annotation) if isinstance(one, ast.Name)] if annotation else []
    )
    return bool(named) and not UNTYPED.intersection(named)
