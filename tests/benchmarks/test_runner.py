"""The benchmark runner tells what was measured and whether it passes."""

import re

import pytest

from tests.benchmarks import __main__ as runner
from tests.benchmarks.figure import Figure


def a_figure(**changes) -> Figure:
    return Figure(
        **{"name": "share-out of 40", "ours": 2.0, "against": 4.0, "limit": 1.0, **changes}
    )


@pytest.mark.parametrize(
    ("figure", "passes"),
    [
        (a_figure(), True),
        (a_figure(limit=0.5), True),
        (a_figure(limit=0.49), False),
        (a_figure(more_is_better=True, limit=0.5), True),
        (a_figure(more_is_better=True, limit=0.51), False),
        (a_figure(against=0.0), False),
        (a_figure(ours=0.0, against=0.0), True),
    ],
)
def test_a_figure_passes_when_its_ratio_keeps_the_limit(figure, passes):
    assert figure.passes is passes


def test_a_figure_is_told_on_one_line():
    line = a_figure().line

    assert re.fullmatch(
        r"share-out of 40 +ours +2 s +against +4 s +ratio +0\.500 +limit <= 1 +pass", line
    )


def test_a_figure_that_fails_makes_the_run_fail(monkeypatch, capsys):
    monkeypatch.setattr(runner, "names", lambda: ["one"])
    monkeypatch.setattr(runner, "figures_of", lambda _name: [a_figure(), a_figure(limit=0.1)])

    status = runner.main([])

    assert status == 1
    assert [line.split()[-1] for line in capsys.readouterr().out.splitlines()] == ["pass", "FAIL"]


def test_an_unknown_benchmark_is_refused(capsys):
    assert runner.main(["no such"]) == 2
    assert "No such benchmark: no such" in capsys.readouterr().out
