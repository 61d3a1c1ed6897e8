"""Tests run against a changed module, each time in a fork of the process that has them loaded."""

import cProfile
import gc
import json
import os
import signal
import sys
import tempfile
import time
from collections.abc import Callable, Iterator, Sequence
from functools import partial
from types import CodeType, FunctionType, ModuleType

import pytest

from tests.mutants.changes import Mutant

LIMIT = 300
"""A mutant may take this long [s]."""


def share_set_up(items: Sequence[pytest.Item]) -> None:
    """Set up here what tests share throughout a run, so that no fork has to."""
    for item in {tuple(one.fixturenames): one for one in items}.values():
        hook = item.config.hook
        set_up = pytest.CallInfo.from_call(partial(hook.pytest_runtest_setup, item=item), "setup")
        hook.pytest_runtest_makereport(item=item, call=set_up)
        # with the session to come next, all that is not the session's is torn down
        hook.pytest_runtest_teardown(item=item, nextitem=item.session)
        item._initrequest()  # which drops what was set up for this test


def entered_by(items: Sequence[pytest.Item], file: str) -> dict[str, list[str]]:
    """Give the functions of a file that each test enters, by the tests' names; the quickest test first."""
    told, profile = dict[str, list[str]](), cProfile.Profile(builtins=False)
    seconds = dict[str, float]()

    def watch() -> int:
        profile.enable()
        began = time.perf_counter()
        for item in _run(items):
            seconds[item.nodeid] = time.perf_counter() - began
            codes = [one.code for one in profile.getstats() if isinstance(one.code, CodeType)]
            told[item.nodeid] = [one.co_qualname for one in codes if one.co_filename == file]
            profile.clear()
            began = time.perf_counter()
        json.dump({one: told[one] for one in sorted(told, key=seconds.__getitem__)}, passed_on)
        passed_on.flush()
        return items[0].session.testsfailed

    with tempfile.TemporaryFile("w+") as passed_on:
        if _in_a_fork(watch) != 0:
            pytest.exit(f"The tests beside {file} fail as they are.", 1)
        passed_on.seek(0)
        return json.load(passed_on)


def outcome(mutant: Mutant, module: ModuleType, items: Sequence[pytest.Item]) -> str:
    """Say whether the mutant is killed, survives or takes too long."""

    def attempt() -> int:
        signal.alarm(LIMIT)
        _change(module, mutant)
        return any(item.session.testsfailed for item in _run(items))

    return {0: "survived", -signal.SIGALRM: "timed out"}.get(_in_a_fork(attempt), "killed")


def _run(items: Sequence[pytest.Item]) -> Iterator[pytest.Item]:
    for item, following in zip(items, [*items, None][1:], strict=True):
        item.config.hook.pytest_runtest_protocol(item=item, nextitem=following)
        yield item


def _change(module: ModuleType, mutant: Mutant) -> None:
    """Change a module's functions, their defaults and its values, whoever holds them by now."""
    changed = sys.modules["changed"] = ModuleType("changed")
    exec(compile(mutant.tree, str(module.__file__), "exec"), vars(changed))  # noqa: S102 - our own
    functions = [one for one in gc.get_objects() if isinstance(one, FunctionType)]
    new = {_where(one): one for one in functions if one.__globals__ is vars(changed)}
    for old in functions:
        if old.__globals__ is vars(module) and (now := new.get(_where(old))):
            old.__code__, old.__defaults__ = now.__code__, now.__defaults__
    for name, value in vars(changed).items():
        was = vars(module).get(name)
        if not (mutant.function or was == value or isinstance(value, type | FunctionType)):
            for holder in [one for one in sys.modules.values() if vars(one).get(name) is was]:
                setattr(holder, name, value)


def _where(function: FunctionType) -> tuple[str, int]:
    return function.__qualname__, function.__code__.co_firstlineno


def _in_a_fork(work: Callable[[], int]) -> int:
    """Give the status of work that a fork of this process does in silence."""
    if (process := os.fork()) == 0:
        try:
            for stream in (1, 2):
                os.dup2(os.open(os.devnull, os.O_WRONLY), stream)
            os._exit(work())
        finally:  # where the work raises, too
            os._exit(1)
    return os.waitstatus_to_exitcode(os.waitpid(process, 0)[1])
