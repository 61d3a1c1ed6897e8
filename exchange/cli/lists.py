"""The circle's lists on a terminal."""

import sys

import click

from exchange.cli.frame import Door, pass_door
from exchange.cli.season import circle_option, working_actor
from exchange.words.circle.lists import TITLES


@click.command("list")
@click.argument("name", type=click.Choice(tuple(TITLES)))
@circle_option
@click.option("--text", "form", flag_value="text", help="As plain text for a mail.")
@click.option("--xlsx", "form", flag_value="xlsx", help="As a workbook, XLSX.")
@click.option(
    "--csv", "form", flag_value="csv", default="csv", help="As CSV, as without an option."
)
@pass_door
def list_(door: Door, name: str, circle: str, *, form: str) -> None:
    """Write a list of the circle as CSV or XLSX, which spreadsheets open, or as plain text.

    In CSV a text that a spreadsheet would take for a formula has an apostrophe before it.

    \b
    Examples:
      exchange list spares > spares.csv
      exchange list spares --xlsx > spares.xlsx
      exchange list members --text
    """
    from exchange.actions.circle.page_lists import circle_list

    with working_actor(door, circle) as actor:
        found = circle_list(actor, name)
    if form == "text":
        click.echo(found.text)
        return
    sys.stdout.buffer.write(found.xlsx if form == "xlsx" else found.csv)
    sys.stdout.buffer.flush()
