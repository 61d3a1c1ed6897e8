"""The circle's lists on a terminal."""

import sys

import click

from exchange.cli.frame import Door, pass_door
from exchange.cli.season import circle_option, working_actor
from exchange.words.circle.lists import TITLES


@click.command("list")
@click.argument("name", type=click.Choice(tuple(TITLES)))
@circle_option
@click.option("--text", is_flag=True, help="As plain text for a mail, not as CSV.")
@pass_door
def list_(door: Door, name: str, circle: str, *, text: bool) -> None:
    """Write a list of the circle as CSV, which spreadsheets open, or as plain text.

    A text that a spreadsheet would take for a formula has an apostrophe before it.

    \b
    Examples:
      exchange list spares > spares.csv
      exchange list members --text
    """
    from exchange.actions.circle.page_lists import circle_list

    with working_actor(door, circle) as actor:
        found = circle_list(actor, name)
    if text:
        click.echo(found.text)
        return
    sys.stdout.buffer.write(found.csv)
    sys.stdout.buffer.flush()
