"""The one entry point: quick help, an example for each command, and honest exit statuses."""

import re
import time

import click
import pytest
from click.testing import CliRunner

from exchange.cli import ENTRIES, main
from tests.house import run, said

HEAVY = ("flask", "sqlalchemy", "highspy", "reportlab", "numpy", "requests")


def words_of(command: click.Command, name: str) -> list[list[str]]:
    """Return the words that start a command and each command below it."""
    if not isinstance(command, click.Group):
        return [[name]]
    return [[name], *([name, below] for below in command.commands)]


def command_at(words: list[str]) -> click.Command:
    command = main.get_command(click.Context(main), words[0])
    for word in words[1:]:
        command = command.commands[word]
    return command


def test_help_is_quick():
    assert min(_seconds_of_help() for _ in range(3)) < 0.5


def test_help_loads_nothing_heavy():
    asked = "import sys; from exchange.cli import main; main(['--help'], standalone_mode=False);"
    result = run("python", "-c", f"{asked} print(sorted(set(sys.modules) & set({HEAVY})))")

    assert result.stdout.splitlines()[-1] == "[]", said(result)


def test_every_command_is_listed_with_its_summary():
    shown = CliRunner().invoke(main, ["--help"]).output

    assert "\n    exchange demo\n" in shown
    assert [name for name, entry in ENTRIES.items() if f"{name} " not in shown] == []
    assert [entry.summary for entry in ENTRIES.values() if entry.summary not in shown] == []


@pytest.mark.parametrize("name", ENTRIES)
def test_each_command_has_help_with_an_example(name):
    for words in words_of(command_at([name]), name):
        result = CliRunner().invoke(main, [*words, "--help"])

        assert result.exit_code == 0, result.output
        assert "\\b" not in result.output, "a raw docstring spoils the line breaks of its example"
        assert re.search(_example_of(words), command_at(words).help or ""), words


@pytest.mark.parametrize("name", ENTRIES)
def test_help_of_a_command_never_loads_the_pages(name):
    asked = f"from exchange.cli import main; main(['{name}', '--help'], standalone_mode=False);"
    result = run("python", "-c", f"import sys; {asked} print('flask' in sys.modules)")

    assert result.stdout.splitlines()[-1] == "False", said(result)


def test_an_unknown_command_is_a_mistake_in_the_call():
    result = CliRunner().invoke(main, ["no-such-command"])

    assert result.exit_code == 2
    assert "no-such-command" in result.stderr
    assert result.stdout == ""


def test_a_refused_setting_ends_the_command_with_its_sentence(monkeypatch):
    @click.command()
    @click.pass_obj
    def trial(door):
        door.settings()

    monkeypatch.setattr(main, "get_command", lambda _context, _name: trial)

    result = CliRunner().invoke(main, ["trial"], env={"EXCHANGE_PORT": "eighty"})

    assert result.exit_code == 1
    assert "The setting port" in result.stderr
    assert result.stdout == ""


def _example_of(words: list[str]) -> str:
    """Match a call of the command, with or without the folder before it."""
    return rf"exchange (?:--folder \S+ )?{re.escape(' '.join(words))}\b"


def _seconds_of_help() -> float:
    started = time.perf_counter()
    result = run("exchange", "--help")
    taken = time.perf_counter() - started

    assert result.returncode == 0, said(result)
    return taken
