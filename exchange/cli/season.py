"""The season's work on a terminal: forecast, plan, papers."""

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING

import click

from exchange.cli.frame import Door, pass_door

if TYPE_CHECKING:
    from exchange.actions.kernel.actor import Actor


@contextmanager
def working_actor(door: Door, circle: str) -> "Iterator[Actor]":
    """Give the organiser of the circle named, and turn refusals into sentences."""
    from exchange.actions.kernel.actor import NotAllowedError
    from exchange.actions.kernel.refusals import RefusedError
    from exchange.actions.people.session import WhichCircleError, organiser_of
    from exchange.cli.house import ready_house

    house = ready_house(door.settings())
    try:
        yield organiser_of(house, circle)
    except WhichCircleError as which:
        raise click.UsageError(str(which)) from which
    except (RefusedError, NotAllowedError) as refused:
        raise click.ClickException(str(refused)) from refused
    finally:
        house.books.close()


circle_option = click.option(
    "--circle", default="", help="The circle's name, where there are several."
)


@click.command()
@circle_option
@click.option("--again", is_flag=True, help="Fetch also what is still fresh.")
@pass_door
def forecast(door: Door, circle: str, *, again: bool) -> None:
    """Fetch the forecast for every place of the circle, from the services set.

    Ends with status 1 when nothing was fetched and nothing fresh is kept: all days are then
    reckoned from what is usual.

    \b
    Example:
      exchange forecast
    """
    from exchange.actions.weather.forecasts import fetch_forecasts

    with working_actor(door, circle) as actor:
        found = fetch_forecasts(actor, door.now(), again=again)
    by = ", ".join(f"{source}: {count}" for source, count in found.sources.items())
    told = f" ({by})" if by else ""
    click.echo(f"Fetched for {found.places} places{told}; {found.kept} were still fresh.")
    for fault in found.faults:
        click.echo(fault, err=True)
    if found.nothing_known:
        raise SystemExit(1)


@click.command()
@circle_option
@pass_door
def plan(door: Door, circle: str) -> None:
    """Work out the posting day of every parcel, and say why.

    \b
    Example:
      exchange plan
    """
    from exchange.actions.circle.season_file import replan_as_text

    with working_actor(door, circle) as actor:
        click.echo(replan_as_text(actor, door.now()))


@click.command()
@circle_option
@click.option(
    "--out",
    type=click.Path(path_type=Path, file_okay=False),
    default=Path("papers"),
    show_default=True,
    help="The folder that is written to.",
)
@pass_door
def papers(door: Door, circle: str, out: Path) -> None:
    """Write the packing slips and care sheets of all parcels as PDF.

    \b
    Example:
      exchange papers --out papers
    """
    from exchange.actions.posting.paper_files import write_papers

    with working_actor(door, circle) as actor:
        written = write_papers(actor, out, door.now())
    click.echo(f"{written} files are in {out}.")
