"""One run of the demo's main job, shared by all tests of what it writes."""

import pytest

from tests.demo.once import plan_in, run_once


@pytest.fixture(scope="session")
def once(tmp_path_factory):
    """Give the folder of one run."""
    folder = tmp_path_factory.mktemp("once")
    (folder / "told.txt").write_text(run_once(folder / "season"), encoding="utf-8")
    return folder / "season"


@pytest.fixture(scope="session")
def told(once):
    """Give what that run printed."""
    return (once.parent / "told.txt").read_text(encoding="utf-8")


@pytest.fixture(scope="session")
def plan(once):
    return plan_in(once)
