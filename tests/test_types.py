"""Types are strict and clean."""

from tests.house import run, said


def test_types_are_strict_and_clean():
    result = run("mypy")

    assert result.returncode == 0, said(result)
