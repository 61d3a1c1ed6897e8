"""One name each: a class is found by its name, so no two classes of the program share one."""

import ast
from collections import defaultdict

from tests.house import ROOT


def classes_by_name(root=ROOT / "exchange"):
    """Give where each class is defined, by its name; migrations are as they were written."""
    found = defaultdict(list)
    for file in sorted(root.rglob("*.py")):
        if "migrations" in file.parts:
            continue
        for node in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
            if isinstance(node, ast.ClassDef):
                found[node.name].append(f"{file.relative_to(root)}:{node.lineno}")
    return found


def test_no_two_classes_share_a_name():
    twice = {name: places for name, places in classes_by_name().items() if len(places) > 1}

    assert twice == {}


def test_a_second_class_of_a_name_is_seen(tmp_path):
    for name in ("one.py", "two.py"):
        (tmp_path / name).write_text("class Spare:\n    class Inner: ...\n")

    twice = {name for name, places in classes_by_name(tmp_path).items() if len(places) > 1}

    assert twice == {"Spare", "Inner"}
