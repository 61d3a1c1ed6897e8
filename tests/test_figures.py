"""Every figure of the craft is written down in docs/figures.md, with its source or as judgement."""

import ast
import math
import operator
import re
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import pytest

from tests.house import PACKAGE, ROOT, python_files, tree_of

DOCUMENT = ROOT / "docs" / "figures.md"
CONSTANT = re.compile(r"_?[A-Z][A-Z0-9_]*")
NUMBER = re.compile(r"[-\u2212]?\d[\d,]*(?:\.\d+)?(?:[eE][-+]?\d+)?")
OPERATIONS = {
    ast.Add: operator.add,
    ast.Sub: operator.sub,
    ast.Mult: operator.mul,
    ast.Div: operator.truediv,
    ast.Pow: operator.pow,
}
COLUMNS = ("name", "value", "unit", "source or judgement", "where")


@dataclass(frozen=True, slots=True)
class Constant:
    """A numeric constant of a module; value is None where it is a table of numbers."""

    path: Path
    name: str
    value: float | None


def constants() -> list[Constant]:
    """Find the constants of the craft, and of any module named terms."""
    folders = [*python_files(PACKAGE / "domain"), *PACKAGE.rglob("terms.py")]
    return [each for path in sorted(set(folders)) for each in constants_in(path, tree_of(path))]


def constants_in(path: Path, tree: ast.Module) -> Iterator[Constant]:
    for node in tree.body:
        match node:
            case ast.Assign(targets=[ast.Name(id=name)], value=value):
                pass
            case ast.AnnAssign(target=ast.Name(id=name), value=ast.expr() as value):
                pass
            case _:
                continue
        if CONSTANT.fullmatch(name) and _holds_numbers(value):
            yield Constant(path, name, _number(value))


def rows() -> dict[str, list[list[str]]]:
    """Read the rows of all tables, by the name in their first cell."""
    found: dict[str, list[list[str]]] = {}
    for line in DOCUMENT.read_text(encoding="utf-8").splitlines():
        cells = [cell.strip() for cell in re.split(r"(?<!\\)\|", line)[1:-1]]
        if len(cells) == len(COLUMNS) and cells[0] != "name" and not set(cells[0]) <= set("-: "):
            found.setdefault(cells[0].strip("`").lstrip("_"), []).append(cells)
    return found


@pytest.fixture(scope="module")
def documented() -> dict[str, list[list[str]]]:
    return rows()


def test_every_figure_of_the_craft_has_its_row(documented):
    missing = [_place(each) for each in constants() if _row_of(each, documented) is None]

    assert missing == []


def test_every_row_states_the_value_in_the_code(documented):
    differing = [
        f"{_place(each)} = {each.value}"
        for each in constants()
        if each.value is not None
        and (row := _row_of(each, documented)) is not None
        and not _states(row[1], each.value)
    ]

    assert differing == []


def test_every_row_names_its_source_or_says_judgement(documented):
    silent = [cells[0] for group in documented.values() for cells in group if not cells[3]]

    assert silent == []


def test_no_row_stands_for_a_module_that_is_gone(documented):
    modules = {path.stem for path in python_files(PACKAGE)} | {
        path.parent.name for path in PACKAGE.rglob("__init__.py")
    }

    gone = [
        cells[0]
        for group in documented.values()
        for cells in group
        if not modules & set(re.findall(r"\w+", cells[4]))
    ]
    assert gone == []


@pytest.mark.parametrize(
    ("line", "value"),
    [
        ("LIMIT = 0.05", 0.05),
        ("LIMIT: Final = -3", -3.0),
        ("SECONDS = 60 * 60", 3600.0),
        ("ODDS = {'a': 0.1}", None),
        ("STEPS = MappingProxyType({'a': (1, 2)})", None),
        ("STEP = timedelta(hours=3)", None),
    ],
)
def test_numbers_are_found_in_constants(line, value):
    (found,) = constants_in(Path("trial.py"), ast.parse(line))

    assert found.value == value


@pytest.mark.parametrize(
    "line", ["NAME = 'text'", "limit = 3", "FLAG = True", "PARTS = ('a', 'b')", "A = f(x)"]
)
def test_other_lines_are_no_figures(line):
    assert list(constants_in(Path("trial.py"), ast.parse(line))) == []


def _holds_numbers(value: ast.expr) -> bool:
    return any(
        isinstance(node, ast.Constant) and type(node.value) in (int, float)
        for node in ast.walk(value)
    )


def _number(value: ast.expr) -> float | None:
    """Work out plain arithmetic on literals; None where there is anything else."""
    match value:
        case ast.Constant(value=int() | float() as number):
            return float(number)
        case ast.UnaryOp(op=ast.USub(), operand=operand):
            number = _number(operand)
            return None if number is None else -number
        case ast.BinOp(left=left, op=operation, right=right) if type(operation) in OPERATIONS:
            numbers = (_number(left), _number(right))
            return None if None in numbers else OPERATIONS[type(operation)](*numbers)
    return None


def _row_of(constant: Constant, documented: dict[str, list[list[str]]]) -> list[str] | None:
    """Find the row with the constant's name whose last cell names its module."""
    module = constant.path.stem if constant.path.stem != "__init__" else constant.path.parent.name
    candidates = documented.get(constant.name.lstrip("_"), [])
    return next((row for row in candidates if module in re.findall(r"\w+", row[4])), None)


def _states(cell: str, value: float) -> bool:
    """Tell whether a cell states a value, plainly or as a percentage."""
    for text in NUMBER.findall(cell):
        number = float(text.replace(",", "").replace("\u2212", "-"))
        if math.isclose(number, value, rel_tol=1e-9, abs_tol=1e-12):
            return True
        if "%" in cell and math.isclose(number / 100, value, rel_tol=1e-9):
            return True
    return False


def _place(constant: Constant) -> str:
    return f"{constant.path.relative_to(ROOT)}: {constant.name}"
