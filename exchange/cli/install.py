"""Setting up a circle."""

from datetime import UTC, datetime
from secrets import token_urlsafe
from shlex import quote
from typing import TYPE_CHECKING, Any

import click

from exchange.cli.asking import Interview
from exchange.cli.frame import Door, pass_door
from exchange.cli.install_questions import (
    CIRCLE,
    HOME,
    MAIL,
    NO_MAIL,
    questions_for,
    settings_of,
    values_of,
)
from exchange.settings import Settings, secrets_in, settings_file, write_settings
from exchange.words.kernel.addresses import only_here

if TYPE_CHECKING:
    from exchange.actions.people.members import Invited

ASKED_AGAIN = {"first_name": "organiser", "name": "circle"}
"""The question that is asked again where the records refuse a field of another name."""


@click.command()
@click.option("--circle", help="The circle's name.")
@click.option("--organiser", help="First name of the organiser.")
@click.option("--email", help="E-mail address of the organiser.")
@click.option("--country", default="GB", show_default=True, help="Two letters, such as GB.")
@click.option(
    "--zone", default="Europe/London", show_default=True, help="The zone its days are counted in."
)
@click.option(
    "--members", help="About how many: pages for a few are plainer than for many.  [default: 15]"
)
@click.option(
    "--address",
    help=f"Where members open the pages: https://..., or {HOME} for the home network only.",
)
@click.option("--mail-server", help=f"The server that takes letters, or {NO_MAIL}.")
@click.option("--mail-port", help="Its port.  [default: 587]")
@click.option("--mail-user", help="The name to sign in to it with.")
@click.option("--mail-password", help="Its password; better typed when asked.")
@click.option("--mail-from", help="The address letters come from.  [default: the organiser's]")
@click.option(
    "--test-letter/--no-test-letter", default=True, help="Mail the organiser a test letter first."
)
@pass_door
def init(door: Door, /, *, test_letter: bool, **told: Any) -> None:
    """Set up a circle in its own folder: secrets, records, and the organiser's invitation.

    In a terminal it asks for what no option names. Run again with another name, it sets up a
    further circle in the same folder.

    \b
    Examples:
      exchange --folder ~/our-circle init
      exchange --folder ~/our-circle init --circle "Our Circle" --organiser Ada --email a@example.org
    """
    settings = door.settings()
    fresh = not settings_file(settings.data_folder).exists()
    interview = Interview({name: text for name, text in told.items() if text is not None})
    if interview.can_ask:
        click.echo(f"A circle in {settings.data_folder}. Ctrl+C leaves everything as it is.")
    reached = interview.can_ask or "address" in interview.told
    interview.ask(questions_for(settings, fresh=fresh, reached=reached))
    if test_letter:
        _try_the_mail(interview, settings)
    _tell(door, interview, _kept(door, interview))


def _try_the_mail(interview: Interview, settings: Settings) -> None:
    """Mail the organiser a test letter; where it is not taken, the answers can be put right."""
    from exchange.actions.kernel.trial_letter import try_mail

    while interview.answers.get("mail_server", NO_MAIL) != NO_MAIL:
        click.echo(f"A test letter goes to {interview['email']} ...")
        wanted, now = settings_of(settings, interview.answers), datetime.now(UTC)
        fault = try_mail(wanted, interview["circle"], interview["email"], token_urlsafe(), now)
        if not fault:
            click.echo("The mail server took it; look whether it arrives.")
            return
        if not interview.can_ask:
            raise click.ClickException(f"The mail server: {fault} Nothing is set up.")
        click.echo(fault)
        interview.ask_again(MAIL, f"Put it right, or write {NO_MAIL} to go on without mail.")


def _kept(door: Door, interview: Interview) -> "Invited":
    """Keep the circle; what its records refuse is asked again where somebody can answer."""
    from exchange.actions.kernel.refusals import RefusedError

    while True:
        try:
            return _set_up(door, interview)
        except RefusedError as refused:
            name = ASKED_AGAIN.get(refused.field, refused.field)
            again = [one for one in CIRCLE if one.name == name]
            if not (again and interview.can_ask):
                raise click.ClickException(str(refused)) from refused
            interview.ask_again(again, str(refused))


def _set_up(door: Door, interview: Interview) -> "Invited":
    """Make folder, settings, secrets and records, and keep the circle in them."""
    from exchange.actions.circle.set_up import NewCircle, set_up
    from exchange.actions.people.members import NewMember
    from exchange.cli.house import house_of, upgraded

    folder = door.settings().data_folder
    folder.mkdir(mode=0o700, parents=True, exist_ok=True)
    values = values_of(interview.answers)
    if values and not settings_file(folder).exists():
        write_settings(folder, values)
    settings = door.settings()
    secrets_in(folder)
    house = house_of(settings)
    upgraded(house)
    new = NewCircle(
        interview["circle"], interview["country"], interview["zone"], int(interview["members"])
    )
    organiser = NewMember(interview["organiser"], email=interview["email"])
    return set_up(house, new, organiser, settings.circle_now(datetime.now(UTC)))


def _tell(door: Door, interview: Interview, invited: "Invited") -> None:
    """Say what to do next, and who can open the link."""
    settings = door.settings()
    folder = "" if door.folder is None else f"--folder {quote(str(door.folder))} "
    click.echo(f"The circle {interview['circle']} is set up in {settings.data_folder}.")
    click.echo(f"Start it with: exchange {folder}serve")
    click.echo(
        f"Then {interview['organiser']} joins with this link, which works once, within 30 days:"
    )
    click.echo(invited.link)
    if only_here(settings.address):
        click.echo(only_here(settings.address))
