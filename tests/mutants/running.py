"""Tests run against a changed module, each time in a fork of the process that has them loaded."""

import ast
import gc
import json
import multiprocessing
import os
import signal
import sys
import tempfile
import time
from collections import Counter, defaultdict
from collections.abc import Callable, Iterator, Sequence
from contextlib import suppress
from pathlib import Path
from types import CodeType, FunctionType, ModuleType

import pytest

from tests.mutants.changes import Mutant

AT_LEAST, TIMES = 20.0, 8.0
"""A mutant may take this long [s], or this many times as long as its tests usually do."""


class Beside:
    """The tests beside a module, how long each takes [s], and which of them enter each function."""

    def __init__(self, module: ModuleType, items: Sequence[pytest.Item]) -> None:
        self.module, self.items, self.file = module, items, str(module.__file__)
        self.took, self.reach = Counter[str](), defaultdict[str, list[str]](list)
        with tempfile.NamedTemporaryFile() as told:
            if in_a_fork(lambda: self._watch(Path(told.name)), 3600.0) != 0:
                raise SystemExit(f"The tests beside {module.__name__} fail as they are.")
            self.took, self.reach = json.loads(told.read())

    def _watch(self, told: Path) -> int:
        """Run the tests as they are, each function noting its name when it is entered."""
        entered = set[str]()
        self.module.__entered__ = entered.add
        tree = ast.parse(Path(self.file).read_text("utf-8"))
        for node in ast.walk(tree):
            if isinstance(node, ast.FunctionDef):
                node.body[:0] = ast.parse("__entered__('?')").body
        in_use = self._in_use()
        for code in _codes(compile(tree, self.file, "exec")):
            named = tuple(code.co_qualname if one == "?" else one for one in code.co_consts)
            for function in in_use[code.co_qualname]:
                function.__code__ = code.replace(co_consts=named)
        for item, following in zip(self.items, [*self.items[1:], None], strict=True):
            began = time.perf_counter()
            item.config.hook.pytest_runtest_protocol(item=item, nextitem=following)
            for name in item.nodeid, str(item.path):
                self.took[name] += time.perf_counter() - began
            for function in entered:
                self.reach[function].append(item.nodeid)
            entered.clear()
        told.write_text(json.dumps([self.took, self.reach]), "utf-8")
        return self.items[0].session.testsfailed

    def _in_use(self) -> dict[str, list[FunctionType]]:
        """Give the functions of the file by their names, whoever holds them by now."""
        found = defaultdict[str, list[FunctionType]](list)
        for one in gc.get_objects():
            if isinstance(one, FunctionType) and one.__code__.co_filename == self.file:
                found[one.__qualname__].append(one)
        return found

    def outcome(self, mutant: Mutant) -> str:
        """Say whether the mutant is killed, survives or takes too long."""
        in_use = self._in_use()
        within = [mutant.function] if mutant.function in in_use else list(self.reach)
        names = {name for one in within for name in self.reach.get(one, ())}
        limit = max(AT_LEAST, TIMES * sum(self.took[name] for name in names))
        status = in_a_fork(lambda: self._run(mutant, in_use[mutant.function], names), limit)
        return {0: "survived", None: "timed out"}.get(status, "killed")

    def _run(self, mutant: Mutant, in_use: list[FunctionType], names: set[str]) -> int:
        changed = mutant.code()
        codes = {one.co_qualname: one for one in _codes(changed)}
        for function in in_use:
            function.__code__ = codes[mutant.function]
        if not in_use:
            _put_values(changed, self.module)
        chosen = [one for one in self.items if one.nodeid in names]
        chosen.sort(key=lambda one: (self.took[str(one.path)], self.took[one.nodeid]))
        for item, following in zip(chosen, [*chosen, None][1:], strict=True):
            item.config.hook.pytest_runtest_protocol(item=item, nextitem=following)
            if item.session.testsfailed:
                return 1
        return 0


def _codes(code: CodeType) -> Iterator[CodeType]:
    for inside in code.co_consts:
        if isinstance(inside, CodeType):
            yield inside
            yield from _codes(inside)


def _put_values(code: CodeType, module: ModuleType) -> None:
    """Change a module's values, wherever they have gone by now, and its functions' defaults."""
    changed = {"__name__": module.__name__}
    exec(code, changed)  # noqa: S102 - our own module
    for name, new in changed.items():
        old = vars(module).get(name)
        if isinstance(new, type | FunctionType):
            with suppress(AttributeError):
                now, then = (one.__init__ if isinstance(one, type) else one for one in (old, new))
                now.__defaults__ = then.__defaults__
        elif old != new:
            for other in [one for one in sys.modules.values() if vars(one).get(name) is old]:
                setattr(other, name, new)


def in_a_fork(work: Callable[[], int], limit: float) -> int | None:
    """Give the status of work done in a fork of this process; None when its time ran out [s]."""

    def alone() -> None:
        os.setsid()
        for stream in (1, 2):
            os.dup2(os.open(os.devnull, os.O_WRONLY), stream)
        os._exit(work())

    process = multiprocessing.get_context("fork").Process(target=alone)
    process.start()
    process.join(limit)
    status = process.exitcode
    with suppress(ProcessLookupError):  # what it started ends with it
        os.killpg(process.pid, signal.SIGKILL)
    process.join()
    return status
