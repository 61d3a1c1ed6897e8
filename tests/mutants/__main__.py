"""Change modules in one place at a time, and see whether the tests beside them notice.

``python -m tests.mutants [module ...] [--sample SHARE] [--seed NUMBER] [--tests FILE ...]``; without a module, all
of modules.toml. No file is written. The exit status is 1 when a mutant survives that modules.toml does not accept.
"""

import argparse
import random
import sys
import tomllib
from collections import Counter
from importlib import import_module
from pathlib import Path
from types import ModuleType

import pytest

from tests.mutants.changes import mutants_of
from tests.mutants.running import entered_by, outcome, share_set_up

ROOT = Path(__file__).parents[2]
MODULES = tomllib.loads(Path(__file__).with_name("modules.toml").read_text("utf-8"))
"""For each module the tests beside it, and the survivors that are accepted, with the reason."""


class Mutants:
    """In place of one run of the tests, a run for each mutant."""

    def __init__(self, options: argparse.Namespace) -> None:
        self.options, self.unknown = options, 0

    def beside(self, module: str) -> list[str]:
        return [str(ROOT / path) for path in self.options.tests or MODULES[module]["tests"]]

    def pytest_runtestloop(self, session: pytest.Session) -> bool:
        for name in self.options.module:
            paths = tuple(self.beside(name))
            items = [item for item in session.items if str(item.path).startswith(paths)]
            share_set_up(items)
            self._try(import_module(name), items, MODULES.get(name, {}).get("accepted", {}))
        return True

    def _try(self, module: ModuleType, items: list[pytest.Item], accepted: dict[str, str]) -> None:
        file, counts = str(module.__file__), Counter[str]()
        entered, named = entered_by(items, file), {one.nodeid: one for one in items}
        many = sum(1 for _ in mutants_of(file))
        share = round(many * self.options.sample)
        drawn = random.Random(self.options.seed).sample(range(many), share)
        for number, mutant in enumerate(mutants_of(file)):
            if number in drawn:
                entering = [named[one] for one in entered if mutant.function in entered[one]]
                # what stands outside functions, any test may notice
                counts[became := outcome(mutant, module, entering or items)] += 1
                if became == "survived":
                    self.unknown += mutant.change not in accepted
                    why = accepted.get(mutant.change, "NOT NOTICED")
                    print(f"  {mutant.line}: {mutant.change} | {why}", flush=True)
        told = ", ".join(f"{counts[one]} {one}" for one in ("killed", "timed out", "survived"))
        noticed = 100 * (1 - counts["survived"] / max(1, share))
        print(f"{module.__name__}: {told}: {noticed:.1f} of 100", flush=True)


def main() -> int:
    """Print what became of the mutants; give the exit status."""
    options = argparse.ArgumentParser(prog="python -m tests.mutants")
    options.add_argument("module", nargs="*", default=list(MODULES), help="as in modules.toml")
    options.add_argument("--tests", nargs="+", help="in place of those in modules.toml")
    options.add_argument("--sample", type=float, default=1.0, help="the share of mutants drawn")
    options.add_argument("--seed", type=int, default=1, help="what decides which are drawn")
    mutants = Mutants(options.parse_args())
    tests = sorted({path for module in mutants.options.module for path in mutants.beside(module)})
    # in one process, which holds the tests that each fork runs
    how = ["-sqq", "-n0", "-o", "tmp_path_retention_policy=failed"]
    return int(pytest.main([*how, *tests], plugins=[mutants])) or int(mutants.unknown > 0)


if __name__ == "__main__":
    sys.exit(main())
