"""`tests/` mirrors `exchange/`: a module's tests are found by its name, or the folder says where.

The tests of `exchange/a/b.py` stand in `tests/a/test_b.py`. Where a module has no test file of its
own, `TESTED_IN` in `tests/a/conftest.py` names the file whose tests use it most. The check that the
named file reaches the module reads imports, paths and commands (see `reach.py`): it sees that the
test can get to the module, not that it proves anything of it.
"""

import ast
import os
from pathlib import Path

import pytest

from tests.house import ROOT
from tests.reach import Checkout


@pytest.fixture(scope="module")
def house():
    return Checkout(ROOT)


def test_each_module_is_tested_where_its_name_or_its_folder_says(house):
    assert untold(house) == []


def test_only_modules_without_a_test_of_their_name_are_told_of(house):
    assert needless(house) == []


def test_each_test_that_is_named_is_there(house):
    assert missing(house) == []


def test_each_module_is_reached_from_the_test_that_stands_for_it(house):
    assert unreached(house) == []


@pytest.fixture
def small(tmp_path):
    """Give a house of two modules: one tested by name, one in another's test."""
    write(tmp_path, "exchange/posting/days.py", "from exchange.posting import odds\n")
    write(tmp_path, "exchange/posting/odds.py")
    write(tmp_path, "tests/posting/test_days.py", "from exchange.posting.days import best\n")
    tell(tmp_path, {"odds": "test_days.py"})
    return tmp_path


def test_a_module_nobody_tells_of_is_seen(small):
    write(small, "exchange/posting/care.py")

    assert faults(small) == ["posting/care.py"]


def test_a_module_with_a_test_of_its_name_needs_no_entry(small):
    write(small, "tests/posting/test_odds.py", "from exchange.posting import odds\n")

    assert faults(small) == ["posting: odds"]


def test_a_module_that_is_gone_keeps_no_entry(small):
    tell(small, {"odds": "test_days.py", "fares": "test_days.py"})

    assert faults(small) == ["posting: fares"]


def test_a_folder_that_is_gone_keeps_no_entry(small):
    write(small, "tests/rounds/conftest.py", "TESTED_IN = {'days': '../posting/test_days.py'}\n")

    assert faults(small) == ["rounds: days"]


@pytest.mark.parametrize(
    "named", ["test_fares.py", "conftest.py", "../../exchange/posting/days.py"]
)
def test_what_is_no_test_file_is_not_named(small, named):
    tell(small, {"odds": named})

    assert faults(small) == [f"posting: {named}"]


def test_a_test_that_does_not_reach_the_module_is_seen(small):
    write(small, "exchange/posting/care.py")
    tell(small, {"odds": "test_days.py", "care": "test_days.py"})

    assert faults(small) == ["posting/care.py: posting/test_days.py"]


def test_a_test_of_a_modules_name_that_tests_something_else_is_seen(small):
    write(small, "tests/posting/test_days.py", "from exchange.posting import odds\n")

    assert faults(small) == ["posting/days.py: posting/test_days.py"]


def test_a_page_is_reached_by_its_path(small):
    write(small, "exchange/web/fares.py", "blueprint = Blueprint('fares', url_prefix='/fares')\n")
    write(small, "tests/web/test_fares.py", "def test_one(visitor): visitor.get('/faresome')\n")
    before = faults(small)
    write(small, "tests/web/test_fares.py", "def test_one(visitor): visitor.get(f'/fares/{1}')\n")

    assert (before, faults(small)) == (["web/fares.py: web/test_fares.py"], [])


def untold(house):
    """Give modules that have neither a test of their name nor an entry."""
    return [
        str(at) for at in modules(house) if not own(house, at).exists() and at not in told(house)
    ]


def needless(house):
    """Give entries of modules that have a test of their name, or are gone."""
    there = {at for at in modules(house) if not own(house, at).exists()}
    return [f"{at.parent}: {at.stem}" for at in told(house) if at not in there]


def missing(house):
    """Give entries that name no test file of `tests/`."""
    return [
        f"{at.parent}: {named}"
        for at, named in told(house).items()
        if not is_test(house, place(house, at, named))
    ]


def unreached(house):
    """Give modules that the test of their name, or the test named for them, does not reach."""
    stands_for = {at: own(house, at) for at in modules(house)}
    stands_for |= {at: place(house, at, named) for at, named in told(house).items()}
    return [
        f"{at}: {test.relative_to(house.root / 'tests')}"
        for at, test in stands_for.items()
        if is_test(house, test) and at in modules(house)
        if house.name_of(house.root / "exchange" / at) not in house.reached(test)
    ]


def modules(house):
    """Give the program's modules, each by its path within `exchange/`."""
    return sorted(
        path.relative_to(house.root / "exchange")
        for name, path in house.files.items()
        if name.split(".")[0] == "exchange" and path.name != "__init__.py"
    )


def told(house):
    """Give what the test folders say of modules without a test of their name."""
    return {
        path.parent.relative_to(house.root / "tests") / f"{module}.py": named
        for path in sorted((house.root / "tests").rglob("conftest.py"))
        for module, named in entries_of(house.tree(path)).items()
    }


def entries_of(tree):
    for node in tree.body:
        if isinstance(node, ast.Assign) and ast.unparse(node.targets[0]) == "TESTED_IN":
            return ast.literal_eval(node.value)
    return {}


def own(house, at):
    return house.root / "tests" / at.parent / f"test_{at.name}"


def place(house, at, named):
    return Path(os.path.normpath(house.root / "tests" / at.parent / named))


def is_test(house, path):
    inside = path.is_relative_to(house.root / "tests")
    return inside and path.name.startswith("test_") and path.is_file()


def faults(root):
    house = Checkout(root)
    return untold(house) + needless(house) + missing(house) + unreached(house)


def write(root, name, text=""):
    path = root / name
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(text, encoding="utf-8")


def tell(root, entries):
    write(root, "tests/posting/conftest.py", f"TESTED_IN = {entries!r}\n")
