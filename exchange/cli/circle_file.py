"""A circle as one file, and back."""

import sys
from datetime import UTC, datetime
from pathlib import Path

import click

from exchange.cli.frame import Door, pass_door
from exchange.cli.season import circle_option, working_actor

STREAM = "-"
file_argument = click.argument("file", type=click.Path(path_type=Path, allow_dash=True))


@click.command()
@file_argument
@circle_option
@pass_door
def export(door: Door, file: Path, circle: str) -> None:
    """Write everything of a circle as JSON into FILE, or to standard output for "-".

    docs/circle_file.md tells what stands in it. It holds addresses and is not encrypted.

    \b
    Examples:
      exchange export our-circle.json
      exchange export - --circle "Our Circle" | gpg --symmetric --output our-circle.json.gpg
    """
    from exchange.actions.circle.circle_file import export_circle

    target = sys.stdout.buffer if str(file) == STREAM else file
    with working_actor(door, circle) as actor:
        done = export_circle(actor, target, datetime.now(UTC))
    click.echo(f"{done.circle}: {done.rows} rows written.", err=True)


@click.command("import")
@file_argument
@pass_door
def import_(door: Door, file: Path) -> None:
    """Take in a circle from FILE, as `exchange export` wrote it, or from standard input for "-".

    The records must be empty: in a new folder, or an empty database that database_url names.

    \b
    Examples:
      exchange --folder ~/circle-again import our-circle.json
      EXCHANGE_DATABASE_URL=postgresql+psycopg://me@localhost/circle exchange import our-circle.json
    """
    from exchange.actions.circle.circle_file import import_circle
    from exchange.actions.kernel.refusals import RefusedError
    from exchange.cli.house import house_of
    from exchange.settings import secrets_in

    settings = door.settings()
    settings.data_folder.mkdir(mode=0o700, parents=True, exist_ok=True)
    secrets_in(settings.data_folder)
    source = sys.stdin.buffer if str(file) == STREAM else file
    house = house_of(settings)
    try:
        done = import_circle(house, source)
    except RefusedError as refused:
        raise click.ClickException(str(refused)) from refused
    finally:
        house.books.close()
    click.echo(f"{done.circle}: {done.rows} rows taken in.")
