"""Measure and print one line per figure: ``python -m tests.benchmarks [module ...]``.

Each module of this folder that has a function ``figures()`` yields Figure values. Without a name,
all of them are measured. The exit status is 1 when a figure does not pass.
"""

import sys
from collections.abc import Iterable, Sequence
from importlib import import_module
from pkgutil import iter_modules

import tests.benchmarks
from tests.benchmarks.figure import Figure

OWN_MODULES = ("__main__", "figure")


def names() -> list[str]:
    """Name the modules that measure something."""
    found = sorted(each.name for each in iter_modules(tests.benchmarks.__path__))
    return [name for name in found if name not in OWN_MODULES and not name.startswith("test_")]


def figures_of(name: str) -> Iterable[Figure]:
    """Measure the figures of one module."""
    return import_module(f"tests.benchmarks.{name}").figures()


def main(asked: Sequence[str]) -> int:
    """Print the figures of the modules asked for; return the exit status."""
    unknown = sorted(set(asked) - set(names()))
    if unknown:
        print(f"No such benchmark: {', '.join(unknown)}. There are: {', '.join(names())}.")
        return 2
    all_pass = True
    for name in asked or names():
        for figure in figures_of(name):
            print(figure.line, flush=True)
            all_pass = all_pass and figure.passes
    return 0 if all_pass else 1


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
