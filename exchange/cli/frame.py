"""The frame of the commands: a group that loads a command only when it is asked for."""

import os
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import UTC, datetime
from importlib import import_module
from pathlib import Path
from typing import Any

import click

from exchange.cli.home_network import at_home
from exchange.settings import SettingRefused, Settings, read_settings


@dataclass(frozen=True, slots=True)
class Entry:
    """Where a command is written ("module:attribute") and its line in the list of commands."""

    target: str
    summary: str


@dataclass(frozen=True, slots=True)
class Door:
    """What a command is handed: the settings and the clock, each read only when asked for."""

    folder: Path | None

    def settings(self) -> Settings:
        """Read the settings from the data folder and the environment.

        Set for the home network, they take this machine's address there.
        """
        settings = read_settings(os.environ, self.folder)
        return at_home(settings) if settings.home_network else settings

    def now(self) -> datetime:
        """Return the circle's now [UTC]."""
        return self.settings().circle_now(datetime.now(UTC))


pass_door = click.make_pass_decorator(Door)


class LazyGroup(click.Group):
    """A group whose commands are named in a table and imported one by one."""

    def __init__(self, *args: Any, entries: Mapping[str, Entry], **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.entries = entries

    def list_commands(self, ctx: click.Context) -> list[str]:
        """Name the commands in the table's order."""
        return list(self.entries)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        """Import the command that was asked for."""
        if cmd_name not in self.entries:
            return None
        module, attribute = self.entries[cmd_name].target.split(":")
        command = getattr(import_module(module), attribute)
        if not isinstance(command, click.Command):
            raise TypeError(f"{module}:{attribute} is no command")
        return command

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        """List the commands from the table, so that no command is imported for its summary."""
        with formatter.section("Commands"):
            formatter.write_dl([(name, entry.summary) for name, entry in self.entries.items()])

    def invoke(self, ctx: click.Context) -> Any:
        """Run the command; a refused setting ends it with its sentence and status 1."""
        try:
            return super().invoke(ctx)
        except SettingRefused as refused:
            raise click.ClickException(str(refused)) from refused
