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

import pytest

from tests.mutants.changes import mutants_of
from tests.mutants.running import Beside

ROOT = Path(__file__).parents[2]
MODULES = tomllib.loads(Path(__file__).with_name("modules.toml").read_text("utf-8"))
"""For each module the tests beside it, and the survivors that are accepted, with the reason."""


class Mutants:
    """Instead of one run of the tests, a run for each mutant."""

    def __init__(self, wanted: argparse.Namespace) -> None:
        self.wanted, self.unknown = wanted, 0

    def beside(self, module: str) -> list[Path]:
        return [ROOT / one for one in self.wanted.tests or MODULES[module]["tests"]]

    def pytest_runtestloop(self, session: pytest.Session) -> bool:
        for module in self.wanted.module:
            folders = self.beside(module)
            items = [i for i in session.items if any(i.path.is_relative_to(f) for f in folders)]
            self._tell(
                Beside(import_module(module), items), MODULES.get(module, {}).get("accepted", {})
            )
        return True

    def _tell(self, beside: Beside, accepted: dict[str, str]) -> None:
        mutants, counts = list(mutants_of(beside.file)), Counter[str]()
        share = round(len(mutants) * self.wanted.sample)
        for mutant in random.Random(self.wanted.seed).sample(mutants, share):
            outcome = beside.outcome(mutant)
            counts[outcome] += 1
            if outcome == "survived":
                why = accepted.get(mutant.change, "")
                self.unknown += not why
                print(f"  {mutant.line}: {mutant.change} | {why or 'NOT NOTICED'}", flush=True)
        told = ", ".join(f"{counts[one]} {one}" for one in ("killed", "timed out", "survived"))
        noticed = 100 * (1 - counts["survived"] / max(1, share))
        print(f"{beside.module.__name__}: {told}: {noticed:.1f} of 100", flush=True)


def main() -> int:
    """Print what became of the mutants; give the exit status."""
    options = argparse.ArgumentParser(prog="python -m tests.mutants")
    options.add_argument("module", nargs="*", default=list(MODULES), help="as in modules.toml")
    options.add_argument("--tests", nargs="+", help="in place of those in modules.toml")
    options.add_argument("--sample", type=float, default=1.0, help="the share of mutants drawn")
    options.add_argument("--seed", type=int, default=1, help="what decides which are drawn")
    mutants = Mutants(options.parse_args())
    tests = {str(path) for module in mutants.wanted.module for path in mutants.beside(module)}
    # in one process, which holds the tests that each fork runs
    status = pytest.main(["-sqq", "-n0", *sorted(tests)], plugins=[mutants])
    return int(status) or int(mutants.unknown > 0)


if __name__ == "__main__":
    sys.exit(main())
