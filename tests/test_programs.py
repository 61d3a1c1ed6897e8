"""A program that is missing: the test that needs it is left out by name, or fails where all are required."""

import ast
from pathlib import Path

import pytest

from tests.house import ROOT, module_name, python_files, run, said, tree_of
from tests.programs import PACKAGES, program

TRIAL = """
from tests.programs import postgresql, program


def test_something():
    {call}
"""
MISSING = [
    *((f'program("{name}")', f"apt-get install {package}.") for name, package in PACKAGES.items()),
    ("postgresql()", "apt-get install postgresql,"),
]
OWN_WORDS = {"tests.programs", "tests.test_programs"}
SKIPS = {"which", "skip", "skipif", "importorskip"}
DAILY_FILES = "tests.reference."
"""Replays of measured days, which are too large to ship: tests in their folder may skip."""


@pytest.fixture
def without_programs(tmp_path):
    """Give a function that runs a trial where no system program is found."""
    (tmp_path / "empty").mkdir()

    def tried(call, required):
        (tmp_path / "test_trial.py").write_text(TRIAL.format(call=call))
        return run(
            "pytest", "-q", "-rs", "-p", "no:cacheprovider", str(tmp_path / "test_trial.py"),
            at=tmp_path, PYTHONPATH=str(ROOT), PATH=str(tmp_path / "empty"),
            EXCHANGE_TEST_POSTGRESQL="", EXCHANGE_TEST_REQUIRE_ALL=required,
        )  # fmt: skip

    return tried


@pytest.mark.parametrize(("call", "sentence"), MISSING)
def test_a_test_without_its_program_is_left_out_and_names_the_package(
    without_programs, call, sentence
):
    usual = without_programs(call, "")

    assert usual.returncode == 0, said(usual)
    assert "1 skipped" in usual.stdout, said(usual)
    assert sentence in usual.stdout, said(usual)


@pytest.mark.parametrize(("call", "sentence"), MISSING[-2:])
def test_a_test_without_its_program_fails_where_all_are_required(without_programs, call, sentence):
    strict = without_programs(call, "1")

    assert strict.returncode == 1, said(strict)
    assert "1 failed" in strict.stdout, said(strict)
    assert sentence in strict.stdout, said(strict)


def test_a_program_that_is_installed_is_found():
    assert Path(program("git")).is_file()


def test_no_test_runs_or_misses_a_program_by_its_own_words():
    found = [
        f"{module_name(path)}:{node.lineno} {ast.unparse(node)[:80]}"
        for path in python_files(ROOT / "tests")
        for node in ast.walk(tree_of(path))
        if module_name(path) not in OWN_WORDS
        if _names_a_program(node)
        or (_skips(node) and not module_name(path).startswith(DAILY_FILES))
    ]

    assert found == []


def test_every_package_is_installed_where_all_are_required():
    listed = (ROOT / ".ci" / "run").read_text(encoding="utf-8").split("packages=(")[1]

    assert set(PACKAGES.values()) <= set(listed.split(")")[0].split())


def _names_a_program(node: ast.AST) -> bool:
    """Tell whether a node is a call of subprocess whose first word stands there as a string."""
    match node:
        case ast.Call(
            func=ast.Attribute(value=ast.Name(id="subprocess")),
            args=[ast.List(elts=[ast.Constant(), *_]) | ast.Constant(), *_],
        ):
            return True
    return False


def _skips(node: ast.AST) -> bool:
    """Tell whether a node looks for a program or leaves a test out."""
    match node:
        case ast.Attribute(value=ast.Name(id="shutil") | ast.Name(id="pytest"), attr=name):
            return name in SKIPS
        case ast.Attribute(
            value=ast.Attribute(value=ast.Name(id="pytest"), attr="mark"), attr=name
        ):
            return name in SKIPS
    return False
