"""The installation as commands open it, without the web application."""

import logging
import sys
from datetime import datetime
from secrets import token_urlsafe

import click

from exchange.actions.circle.set_up import check_records, reach_records, upgrade_records
from exchange.actions.kernel.actor import House
from exchange.actions.kernel.refusals import RefusedError
from exchange.actions.kernel.services import open_house
from exchange.settings import Settings

NOT_SET_UP = "There is no circle here yet. Set one up with: exchange init"
OLDER = "The records are of an older version. Bring them up to date with: exchange records upgrade"
NO_DRIVER = (
    "The setting database_url needs {missing}, which is not installed; the extra “scale” brings"
    " what PostgreSQL needs."
)


def house_of(settings: Settings) -> House:
    """Open the house the settings name, or end with a sentence that says why it stays shut."""
    try:
        house = open_house(settings, token_urlsafe)
        reach_records(house)
    except ModuleNotFoundError as missing:
        raise click.ClickException(NO_DRIVER.format(missing=missing.name)) from missing
    except RefusedError as refused:
        raise click.ClickException(str(refused)) from refused
    return house


def ready_house(settings: Settings) -> House:
    """Open a house that is set up and up to date, or end with a sentence that says what to do."""
    if not settings.database_url and not settings.data_folder.is_dir():
        raise click.ClickException(NOT_SET_UP)
    house = house_of(settings)
    found = check_records(house)
    if found.revision is None:
        raise click.ClickException(NOT_SET_UP)
    if found.revision != found.newest:
        raise click.ClickException(OLDER)
    return house


def upgraded(house: House) -> str:
    """Bring the records up to date, say where a copy of the older ones lies, and give the version."""
    try:
        done = upgrade_records(house, datetime.now().astimezone().date())
    except RefusedError as refused:
        raise click.ClickException(str(refused)) from refused
    if done.copy is not None:
        click.echo(f"A copy of the records as they were is kept in {done.copy}.")
    return done.newest


def write_log(settings: Settings) -> None:
    """Write what the running program tells to standard error, one line each."""
    logging.basicConfig(
        level=settings.log_level,
        stream=sys.stderr,
        format="%(asctime)s %(levelname)s %(name)s: %(message)s",
    )
    logging.getLogger("alembic").setLevel(max(settings.log_level, "WARNING", key=_loudness))


def _loudness(name: str) -> int:
    return int(logging.getLevelNamesMapping()[name])
