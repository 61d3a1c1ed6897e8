"""Setting up a circle."""

import sys
from datetime import UTC, datetime
from shlex import quote

import click

from exchange.cli.frame import Door, pass_door

USUAL_MEMBERS = 15


@click.command()
@click.option("--circle", "name", prompt="Name of the circle", help="The circle's name.")
@click.option(
    "--organiser", prompt="First name of the organiser", help="First name of the organiser."
)
@click.option(
    "--email", prompt="E-mail address of the organiser", help="E-mail address of the organiser."
)
@click.option("--country", default="GB", show_default=True, help="Two letters, such as GB.")
@click.option(
    "--zone", default="Europe/London", show_default=True, help="The zone its days are counted in."
)
@click.option(
    "--members",
    type=int,
    help="About how many members: pages for a few are plainer than pages for many."
    "  [default: asked for; 15 where nobody can answer]",
)
@pass_door
def init(door: Door, /, name: str, organiser: str, email: str, **circle: str | int | None) -> None:
    """Set up a circle in its own folder: secrets, records, and the organiser's invitation.

    Run again with another name, it sets up a further circle in the same folder.

    \b
    Example:
      exchange --folder ~/our-circle init --circle "Our Circle" --organiser Ada --email a@example.org
    """
    from exchange.actions.circle.set_up import NewCircle, set_up
    from exchange.actions.kernel.refusals import RefusedError
    from exchange.actions.people.members import NewMember
    from exchange.cli.house import house_of, upgraded
    from exchange.settings import secrets_in

    settings = door.settings()
    members = _about_how_many(circle["members"])
    settings.data_folder.mkdir(mode=0o700, parents=True, exist_ok=True)
    secrets_in(settings.data_folder)
    house = house_of(settings)
    upgraded(house)
    now = settings.circle_now(datetime.now(UTC))
    wanted = NewCircle(name, str(circle["country"]), str(circle["zone"]), members)
    try:
        invited = set_up(house, wanted, NewMember(organiser, email=email), now)
    except RefusedError as refused:
        raise click.ClickException(str(refused)) from refused
    folder = "" if door.folder is None else f"--folder {quote(str(door.folder))} "
    click.echo(f"The circle {name} is set up in {settings.data_folder}.")
    click.echo(f"Start it with: exchange {folder}serve")
    click.echo(f"Then {organiser} joins with this link, which works once, within 30 days:")
    click.echo(invited.link)


def _about_how_many(said: int | str | None) -> int:
    """Give the number named, or ask for it where somebody can answer."""
    if said is not None:
        return int(said)
    if not sys.stdin.isatty():
        return USUAL_MEMBERS
    return int(click.prompt("About how many members", default=USUAL_MEMBERS, type=int))
