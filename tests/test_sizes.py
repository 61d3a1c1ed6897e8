"""Modules, functions and templates stay small enough to be read in one go."""

import ast
from pathlib import Path

import numpy as np

from tests.house import PACKAGE, ROOT, functions_in, python_files, template_files

LONGEST_MODULE = 350
LONGEST_FUNCTION = 50
LONGEST_TEMPLATE = 150
MOST_PARAMETERS = 6
SHORTEST_COUNTED = 3


def test_no_module_is_longer_than_allowed():
    too_long = _longer_than(LONGEST_MODULE, python_files(PACKAGE))

    assert too_long == {}


def test_no_test_module_is_longer_than_allowed():
    too_long = _longer_than(LONGEST_MODULE, python_files(ROOT / "tests"))

    assert too_long == {}


def test_most_modules_are_short():
    lengths = [_lines(path) for path in python_files(PACKAGE)]
    counted = [length for length in lengths if length >= SHORTEST_COUNTED]

    assert np.median(counted) <= 120
    assert np.percentile(counted, 90) <= 220


def test_no_function_is_longer_than_allowed():
    too_long = {
        name: length for name, length in _function_lengths().items() if length > LONGEST_FUNCTION
    }

    assert too_long == {}


def test_most_functions_are_short():
    lengths = list(_function_lengths().values())

    assert np.median(lengths) <= 10
    assert np.percentile(lengths, 90) <= 30


def test_no_function_takes_more_parameters_than_allowed():
    too_many = {
        f"{path.relative_to(ROOT)}:{function.name}": _parameters(function)
        for path in python_files(PACKAGE)
        for function in functions_in(path)
        if _parameters(function) > MOST_PARAMETERS
    }

    assert too_many == {}


def test_no_template_is_longer_than_allowed():
    too_long = _longer_than(LONGEST_TEMPLATE, template_files())

    assert too_long == {}


def test_most_templates_are_short():
    lengths = [_lines(path) for path in template_files()]

    assert lengths
    assert np.median(lengths) <= 40
    assert np.percentile(lengths, 90) <= 100


def test_a_function_is_measured_without_its_docstring():
    (function,) = ast.parse('def f():\n    """One.\n\n    Two.\n    """\n    return 1\n').body

    assert _code_lines(function) == 2


def _longer_than(limit: int, paths: list[Path]) -> dict[str, int]:
    return {str(path.relative_to(ROOT)): _lines(path) for path in paths if _lines(path) > limit}


def _lines(path: Path) -> int:
    return len(path.read_text(encoding="utf-8").splitlines())


def _function_lengths() -> dict[str, int]:
    return {
        f"{path.relative_to(ROOT)}:{function.lineno} {function.name}": _code_lines(function)
        for path in python_files(PACKAGE)
        for function in functions_in(path)
    }


def _code_lines(function: ast.FunctionDef | ast.AsyncFunctionDef) -> int:
    whole = function.end_lineno - function.lineno + 1
    if ast.get_docstring(function) is None:
        return whole
    docstring = function.body[0]
    return whole - (docstring.end_lineno - docstring.lineno + 1)


def _parameters(function: ast.FunctionDef | ast.AsyncFunctionDef) -> int:
    given = function.args
    names = [each.arg for each in [*given.posonlyargs, *given.args, *given.kwonlyargs]]
    return len([name for name in names if name not in ("self", "cls")])
