"""The command that changes modules makes the changes it should, and says which no test notices."""

import re
import subprocess
import sys
from functools import cache

import pytest

from tests.house import ROOT
from tests.mutants.__main__ import MODULES
from tests.mutants.changes import mutants_of

QUICK = [
    "exchange.domain.posting.stops",
    "exchange.domain.growing.fit",
    "exchange.domain.sharing.pairs",
]
"""Modules whose mutants take a fraction of a second each."""


def file_of(module):
    return ROOT / f"{module.replace('.', '/')}.py"


@cache
def changes_of(module):
    return [mutant.change for mutant in mutants_of(str(file_of(module)))]


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
        ("x = a and b", ["a and b -> b", "a and b -> a", "a and b -> a or b"]),
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


def test_of_a_tenth_of_all_changes_the_tests_of_quick_modules_miss_none_that_is_not_accepted():
    every = {name: len(changes_of(name)) for name in MODULES}
    share = sum(every.values()) / 10 / sum(every[name] for name in QUICK)

    done = run(*QUICK, "--sample", f"{share + 0.01:.2f}", "--seed", "7")

    killed = sum(int(count) for count in re.findall(r"(\d+) killed", done.stdout))
    assert done.returncode == 0, done.stdout
    assert killed > 0.85 * sum(every.values()) / 10


@pytest.mark.parametrize("module", MODULES)
def test_every_module_named_is_there_and_has_tests_beside_it(module):
    assert file_of(module).is_file()
    assert all((ROOT / path).exists() for path in MODULES[module]["tests"])


@pytest.mark.parametrize("module", MODULES)
def test_every_change_that_is_accepted_is_one_that_is_made(module):
    accepted = MODULES[module].get("accepted", {})

    assert set(accepted) <= set(changes_of(module))
    assert all(accepted.values())
