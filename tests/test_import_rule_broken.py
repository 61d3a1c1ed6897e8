"""Breaking the import rule by hand is found: on a copy of the tree, one break at a time."""

import shutil
from pathlib import Path

import pytest

from tests.house import ROOT, run, said

BREAKS = {
    "a page asks the records": (
        "web/shortcut.py",
        "import exchange.records",
        "Pages, commands and jobs reach the adapters only through actions",
    ),
    "the craft learns a framework": (
        "domain/growing/shortcut.py",
        "import flask",
        "The craft knows no framework",
    ),
    "growing looks up to sharing": (
        "domain/growing/shortcut.py",
        "import exchange.domain.sharing",
        "The layers of the craft",
    ),
    "the records lean on the pages": (
        "records/shortcut.py",
        "import exchange.web",
        "The layers of the house",
    ),
    "a room without a place in the house": (
        "attic/__init__.py",
        "ROOM = True",
        "The layers of the house",
    ),
    "the solver leaves its room": (
        "domain/posting/shortcut.py",
        "import highspy",
        "The solver stays in its room",
    ),
    "an action reads the settings": (
        "actions/shortcut.py",
        "import exchange.settings",
        "Settings are read at the door",
    ),
    "an action speaks SQL": (
        "actions/shortcut.py",
        "import sqlalchemy",
        "Only records knows SQLAlchemy",
    ),
    "the application speaks SQL": (
        "app.py",
        "import sqlalchemy",
        "Only records knows SQLAlchemy",
    ),
    "an action reads a table": (
        "actions/shortcut.py",
        "import exchange.records.tables",
        "Tables stay within the records",
    ),
}


@pytest.fixture
def copied_tree(tmp_path: Path) -> Path:
    """Copy the package and its rule."""
    shutil.copy(ROOT / "pyproject.toml", tmp_path)
    shutil.copytree(
        ROOT / "exchange", tmp_path / "exchange", ignore=shutil.ignore_patterns("__pycache__")
    )
    return tmp_path


@pytest.mark.parametrize("name", BREAKS)
def test_a_break_of_the_import_rule_is_found(copied_tree: Path, name: str):
    place, line, contract = BREAKS[name]
    module = copied_tree / "exchange" / place
    module.parent.mkdir(exist_ok=True)
    module.write_text(f"{line}\n")

    result = run("lint-imports", "--no-cache", at=copied_tree)

    assert result.returncode == 1, said(result)
    assert _is_named_broken(contract, result.stdout), said(result)


def test_the_unbroken_copy_keeps_the_rule(copied_tree: Path):
    result = run("lint-imports", "--no-cache", at=copied_tree)

    assert result.returncode == 0, said(result)


def _is_named_broken(contract: str, output: str) -> bool:
    """Tell whether the contract is broken; a room without a layer is reported differently."""
    return f"{contract} BROKEN" in output or "attic" in output
