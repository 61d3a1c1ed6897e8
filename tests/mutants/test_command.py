"""The command that changes modules makes the changes it should, and says which no test notices."""

import subprocess
import sys

import pytest

from tests.house import ROOT
from tests.mutants.__main__ import MODULES
from tests.mutants.changes import mutants_of


def changes_in(source, folder):
    file = folder / "module.py"
    file.write_text(source)
    return [mutant.change for mutant in mutants_of(str(file))]


def run(*arguments):
    return subprocess.run(
        [sys.executable, "-m", "tests.mutants", *arguments],
        cwd=ROOT, capture_output=True, text=True, check=False, timeout=300,
    )  # fmt: skip


@pytest.mark.parametrize(
    ("line", "changed"),
    [
        ("return a < b", ["return a < b -> return None", "a < b -> a <= b"]),
        ("return a is b", ["return a is b -> return None", "a is b -> a is not b"]),
        ("x = a and b", ["a and b -> a or b", "a and b -> b", "a and b -> a"]),
        ("x = not a", ["not a -> a"]),
        ("x = a + b", ["a + b -> a - b"]),
        ("x = 3", ["3 -> 4", "3 -> 2"]),
        ("x = 2.0", ["2.0 -> 2.2", "2.0 -> 1.8"]),
        ("x = True", ["True -> False"]),
        ("x = min(a, b)", ["min -> max"]),
        ("x = a if b else c", ["a if b else c -> a", "a if b else c -> c"]),
        ("x = [a for a in b if a]", ["[a for a in b if a] -> [a for a in b]"]),
        ("x = a.where(b).limit(c)", ["a.where(b).limit(c) -> a.where(b)", "a.where(b) -> a"]),
        ("x = a.all(b, c=d)", ["a.all(b, c=d) -> a.all(b)"]),
        ("a(b)", ["a(b) -> pass"]),
        ("a.b = c", ["a.b = c -> pass"]),
        ("if a: raise b", ["if a: -> if True:", "raise b -> pass"]),
        ("if a: return", ["if a: -> if True:", "if a: -> if False:"]),
        ("'text'; x = f'{a + 1}'", []),
    ],
)
def test_each_kind_of_line_is_changed_in_its_ways(tmp_path, line, changed):
    changes = changes_in(f"def f():\n    {line}\n", tmp_path)

    assert [one.removeprefix("f: ") for one in changes] == changed


def test_the_same_change_twice_in_a_function_is_told_apart(tmp_path):
    changes = changes_in("def f():\n    return a(True, True)\n", tmp_path)

    assert changes[1:] == ["f: True -> False", "f: True -> False (2)"]


def test_tests_that_look_at_something_else_notice_nothing():
    done = run("exchange.domain.growing.fit", "--tests", "tests/domain/circle/test_border.py",
               "--sample", "0.1")  # fmt: skip

    assert done.returncode == 1
    assert "0 killed, 0 timed out" in done.stdout
    assert "NOT NOTICED" in done.stdout


@pytest.mark.parametrize("module", MODULES)
def test_every_module_named_is_there_and_has_tests_beside_it(module):
    assert (ROOT / f"{module.replace('.', '/')}.py").is_file()
    assert all((ROOT / path).exists() for path in MODULES[module]["tests"])
