"""Looking after the records."""

import click

from exchange.cli.frame import Door, pass_door


@click.group()
def records() -> None:
    """Bring the records up to date, or check them.

    \b
    Example:
      exchange records check
    """


@records.command()
@pass_door
def upgrade(door: Door) -> None:
    """Bring the records to the shape this version needs; all or nothing.

    Records in a file of their own are copied beside it first; delete the copy when all is well.

    \b
    Example:
      exchange records upgrade
    """
    from exchange.cli.house import house_of, upgraded

    settings = door.settings()
    settings.data_folder.mkdir(mode=0o700, parents=True, exist_ok=True)
    newest = upgraded(house_of(settings))
    click.echo(f"The records are at version {newest}.")


@records.command()
@pass_door
def check(door: Door) -> None:
    """Compare the records with the shape they should have; status 1 when they differ.

    \b
    Example:
      exchange records check
    """
    from exchange.actions.circle.set_up import check_records
    from exchange.cli.house import NOT_SET_UP, OLDER, house_of

    settings = door.settings()
    settings.data_folder.mkdir(mode=0o700, parents=True, exist_ok=True)
    found = check_records(house_of(settings))
    if found.revision is None:
        raise click.ClickException(NOT_SET_UP)
    if found.revision != found.newest:
        raise click.ClickException(OLDER)
    if found.sound:
        click.echo(f"The records are at version {found.revision}, as they should be.")
        return
    click.echo("The records differ from the shape they should have:", err=True)
    for difference in found.differences:
        click.echo(f"  {difference}", err=True)
    raise click.exceptions.Exit(1)
