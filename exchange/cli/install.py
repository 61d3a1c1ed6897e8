"""Setting up a circle."""

from datetime import UTC, datetime

import click

from exchange.cli.frame import Door, pass_door


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
    default=15,
    show_default=True,
    prompt="About how many members",
    help="About how many members; pages for a few are plainer than pages for many.",
)
@pass_door
def init(door: Door, /, name: str, organiser: str, email: str, **circle: str | int) -> None:
    """Set up a circle in its own folder: secrets, records, and the organiser's invitation.

    Run again with another name, it sets up a further circle in the same folder.

    \b
    Example:
      exchange --folder ~/our-circle init --circle "Our Circle" --organiser Ada --email a@example.org
    """
    from exchange.actions.install import NewCircle, invite_organiser, new_circle, upgrade_records
    from exchange.actions.people import NewMember
    from exchange.actions.refused import RefusedError
    from exchange.cli.house import house_of
    from exchange.settings import secrets_in

    settings = door.settings()
    settings.data_folder.mkdir(mode=0o700, parents=True, exist_ok=True)
    secrets_in(settings.data_folder)
    house = house_of(settings)
    upgrade_records(house)
    now = settings.circle_now(datetime.now(UTC))
    wanted = NewCircle(name, str(circle["country"]), str(circle["zone"]), int(circle["members"]))
    try:
        circle_id = new_circle(house, wanted, now)
        invited = invite_organiser(house, circle_id, NewMember(organiser, email=email), now)
    except RefusedError as refused:
        raise click.ClickException(str(refused)) from refused
    click.echo(f"The circle {name} is set up in {settings.data_folder}.")
    click.echo("Start it with: exchange serve")
    click.echo(f"Then {organiser} joins with this link, which works once, within 30 days:")
    click.echo(invited.link)
