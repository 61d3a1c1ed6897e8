"""The program's functions by syntax tree, and which of them each one calls by name."""

import ast
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path

from tests.house import ROOT, module_name, python_files, tree_of


@dataclass(frozen=True)
class Program:
    """The functions of some modules, by dotted name; those of a class too.

    Attributes
    ----------
    trees : the modules by dotted name
    """

    trees: dict[str, ast.Module]

    @classmethod
    def of(cls, *folders: Path) -> "Program":
        paths = [path for folder in folders for path in python_files(folder)]
        return cls({module_name(path): tree_of(path) for path in paths})

    @cached_property
    def functions(self) -> dict[str, ast.FunctionDef]:
        """Give each function of a module or a class by its dotted name."""
        found = {}
        for module, tree in self.trees.items():
            for owner in (tree, *(node for node in tree.body if isinstance(node, ast.ClassDef))):
                prefix = module if owner is tree else f"{module}.{owner.name}"
                found |= {
                    f"{prefix}.{node.name}": node
                    for node in owner.body
                    if isinstance(node, ast.FunctionDef)
                }
        return found

    @cached_property
    def imported(self) -> dict[str, dict[str, str]]:
        """Give what each module's imports call, wherever they stand in it [module -> name -> dotted]."""
        return {
            module: {
                alias.asname or alias.name: f"{node.module}.{alias.name}"
                for node in ast.walk(tree)
                if isinstance(node, ast.ImportFrom) and node.module
                for alias in node.names
            }
            for module, tree in self.trees.items()
        }

    def module_of(self, name: str) -> str:
        """Give the module a function stands in."""
        parts = name.split(".")
        return next(
            module
            for end in range(len(parts) - 1, 0, -1)
            if (module := ".".join(parts[:end])) in self.trees
        )

    def called(self, module: str, call: ast.Call) -> str | None:
        """Give the dotted name of what a call in a module calls, where its name says which."""
        said = ast.unparse(call.func)
        first, _dot, rest = said.partition(".")
        if f"{module}.{said}" in self.functions:
            return f"{module}.{said}"
        base = self.imported[module].get(first)
        return base and (f"{base}.{rest}" if rest else base)


ACTIONS = ROOT / "exchange" / "actions"


def opens(call: ast.Call) -> bool:
    """Say whether a call opens the database: `books.writing()`, `house.books.reading()`."""
    function = call.func
    if not isinstance(function, ast.Attribute) or function.attr not in ("reading", "writing"):
        return False
    return ast.unparse(function.value).split(".")[-1] == "books"


def acts_of(program: Program) -> frozenset[str]:
    """Give the functions that open the database, themselves or by something they call."""
    calls = {
        name: [node for node in ast.walk(function) if isinstance(node, ast.Call)]
        for name, function in program.functions.items()
    }
    acts = {name for name, own in calls.items() if any(map(opens, own))}
    while more := {
        name
        for name, own in calls.items()
        if name not in acts
        and any(program.called(program.module_of(name), call) in acts for call in own)
    }:
        acts |= more
    return frozenset(acts)
