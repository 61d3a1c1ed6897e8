"""Style is clean, and neither clock nor chance gets into the craft and the actions."""

import ast

import pytest

from tests.house import PACKAGE, ROOT, module_name, python_files, run, said, tree_of

FORBIDDEN_MODULES = {"random", "secrets", "uuid", "time"}
FORBIDDEN_CALLS = {"now", "utcnow", "today", "default_rng", "RandomState"}
PURE = (PACKAGE / "domain", PACKAGE / "actions")


def test_the_style_is_clean():
    result = run("ruff", "check", "--no-cache", "exchange", "tests")

    assert result.returncode == 0, said(result)


def test_the_layout_is_the_formatters():
    result = run("ruff", "format", "--check", "--no-cache", "exchange", "tests")

    assert result.returncode == 0, said(result)


def test_the_templates_are_clean():
    result = run("djlint", "templates", "--lint", "--quiet")

    assert result.returncode == 0, said(result)


def test_no_check_is_silenced_without_a_reason():
    silenced = [
        f"{path.relative_to(ROOT)}:{number}"
        for path in python_files(PACKAGE)
        for number, line in enumerate(path.read_text(encoding="utf-8").splitlines(), start=1)
        if _is_silenced_without_reason(line)
    ]

    assert silenced == []


@pytest.mark.parametrize("folder", PURE, ids=lambda folder: folder.name)
def test_neither_clock_nor_chance_is_asked(folder):
    found = [
        f"{module_name(path)}:{node.lineno}"
        for path in python_files(folder)
        for node in ast.walk(tree_of(path))
        if _asks_clock_or_chance(node)
    ]

    assert found == []


@pytest.mark.parametrize(
    "line",
    [
        "from datetime import datetime\n\nSTART = datetime.now()",
        "import datetime\n\nSTART = datetime.date.today()",
        "import time\n\nSTART = time.time()",
        "import random\n\nDRAW = random.random()",
        "from numpy.random import default_rng\n\nDRAW = default_rng()",
        "import secrets\n\nDRAW = secrets.token_hex()",
    ],
)
@pytest.mark.parametrize("room", ["domain", "actions"])
def test_the_style_check_finds_clock_and_chance(line, room):
    place = f"exchange/{room}/trial.py"
    result = run("ruff", "check", "--select", "TID251", "--stdin-filename", place, "-", given=line)

    assert "TID251" in result.stdout


def _asks_clock_or_chance(node: ast.AST) -> bool:
    match node:
        case ast.Import(names=names):
            return any(each.name.split(".")[0] in FORBIDDEN_MODULES for each in names)
        case ast.ImportFrom(module=str(module), level=0):
            return module.split(".")[0] in FORBIDDEN_MODULES
        case ast.Call(func=ast.Attribute(attr=attribute)):
            return attribute in FORBIDDEN_CALLS
    return False


def _is_silenced_without_reason(line: str) -> bool:
    """Tell whether a check is silenced without words beside it that say why."""
    for mark in ("# noqa", "# type: ignore"):
        if mark in line:
            after = line.split(mark, 1)[1]
            return "#" not in after and " - " not in after and "; " not in after
    return False
