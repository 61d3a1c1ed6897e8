"""Backups of the whole installation."""

import sys
from datetime import UTC, datetime
from pathlib import Path
from shlex import quote

import click

from exchange.cli.frame import Door, pass_door

STREAM = "-"


@click.command()
@click.argument("file", type=click.Path(path_type=Path, allow_dash=True))
@click.option(
    "--secrets/--without-secrets",
    default=True,
    show_default=True,
    help="Whether the secrets and settings.toml, which may hold the mail password, are in it.",
)
@pass_door
def backup(door: Door, file: Path, *, secrets: bool) -> None:
    """Write a backup of all circles into FILE, or to standard output for "-".

    The pages may be served meanwhile. The backup is read back and compared before it gets its
    name, and a file that is there already is left as it is. It holds addresses and is not
    encrypted; docs/backups.md tells how to have that done.

    \b
    Examples:
      exchange backup circle-2027-04-05.backup
      exchange backup --without-secrets circle-to-look-at.backup
      exchange backup - | gpg --symmetric --output circle.backup.gpg
    """
    from exchange.actions.circle.backup import back_up
    from exchange.actions.kernel.refusals import RefusedError
    from exchange.cli.house import ready_house

    house = ready_house(door.settings())
    target = sys.stdout.buffer if str(file) == STREAM else file
    try:
        made = back_up(house, target, datetime.now(UTC), secrets=secrets)
    except RefusedError as refused:
        raise click.ClickException(str(refused)) from refused
    finally:
        house.books.close()
    told = "with the secrets" if made.secrets else "without the secrets"
    where = "to standard output" if str(file) == STREAM else f"into {file}"
    click.echo(f"Written {where} and read back: {made.size:,} bytes, {told}.", err=True)


@click.command()
@click.argument("file", type=click.Path(path_type=Path, allow_dash=True))
@click.option(
    "--erasures",
    type=click.Path(path_type=Path),
    help="The list of members erased; else erasures.jsonl beside FILE.",
)
@pass_door
def restore(door: Door, file: Path, erasures: Path | None) -> None:
    """Set up an empty or new data folder from the backup FILE, or from standard input for "-".

    Nothing is overwritten. Records of an older version are brought up to date. Whoever was erased
    after the backup was made is erased again.

    \b
    Examples:
      exchange --folder ~/circle-again restore circle-2027-04-05.backup
      gpg --decrypt circle.backup.gpg | exchange --folder ~/circle-again restore -
      exchange --folder ~/circle-again restore old.backup --erasures ~/circle/backups/erasures.jsonl
    """
    from exchange.actions.circle.restore import SETTINGS_THEN
    from exchange.actions.circle.restore import restore as restore_backup
    from exchange.actions.kernel.refusals import RefusedError

    settings = door.settings()
    if settings.database_url:
        raise click.ClickException(
            "A backup is restored into a SQLite file in the data folder; the setting database_url"
            " names another database. Unset it first."
        )
    source = sys.stdin.buffer if str(file) == STREAM else file
    try:
        done = restore_backup(source, settings.data_folder, erasures)
    except RefusedError as refused:
        raise click.ClickException(str(refused)) from refused
    click.echo(f"Restored into {settings.data_folder}: {', '.join(done.circles)}.")
    click.echo(f"It stands as it was on {done.made_at:%Y-%m-%d at %H:%M} UTC.")
    if done.revision != done.newest:
        click.echo(f"The records were brought from version {done.revision} to {done.newest}.")
    if done.erased:
        click.echo(f"Erased again, as after the backup was made: {done.erased}.")
    if not done.secrets:
        click.echo("It came without secrets: everybody needs a new password and new links.")
    if done.settings_then:
        click.echo(f"Its settings name another database; they lie beside it as {SETTINGS_THEN}.")
    click.echo(f"Start it with: exchange --folder {quote(str(settings.data_folder))} serve")
