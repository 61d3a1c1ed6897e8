"""The import rule holds."""

from tests.house import ROOT, run, said


def test_the_import_rule_holds_throughout():
    result = run("lint-imports", "--no-cache", "--config", str(ROOT / "pyproject.toml"))

    assert result.returncode == 0, said(result)
    assert " 0 broken" in result.stdout
