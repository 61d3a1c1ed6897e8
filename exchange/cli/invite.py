"""A sign-in link for a member, which works once."""

from datetime import UTC, datetime

import click

from exchange.cli.frame import Door, pass_door
from exchange.words.kernel.addresses import only_here


@click.command()
@click.argument("email")
@click.option("--circle", "circle_name", default="", help="The circle, where there are several.")
@click.option("--name", default="", help="First name; invites somebody who is no member yet.")
@pass_door
def invite(door: Door, email: str, circle_name: str, name: str) -> None:
    """Make a link that works once: to sign in, or to join with --name.

    \b
    Examples:
      exchange invite ada@example.org
      exchange invite bert@example.org --name Bert
    """
    from exchange.actions.kernel.refusals import RefusedError
    from exchange.actions.people.sign_in import way_in
    from exchange.cli.house import ready_house

    settings = door.settings()
    house = ready_house(settings)
    try:
        link = way_in(house, circle_name, email, name, datetime.now(UTC))
    except RefusedError as refused:
        raise click.ClickException(str(refused)) from refused
    click.echo(link)
    if only_here(settings.address):
        click.echo(only_here(settings.address), err=True)
