"""The house as commands open it, without the web application."""

import logging
import sys
from secrets import token_urlsafe

import click

from exchange.actions.actor import House
from exchange.actions.install import check_records
from exchange.actions.opening import open_house
from exchange.settings import Settings


def house_of(settings: Settings) -> House:
    """Open the house the settings name."""
    return open_house(settings, token_urlsafe)


def ready_house(settings: Settings) -> House:
    """Open a house that is set up and up to date, or end with a sentence that says what to do."""
    house = house_of(settings)
    found = check_records(house)
    if found.revision is None:
        raise click.ClickException("There is no circle here yet. Set one up with: exchange init")
    if found.revision != found.newest:
        raise click.ClickException(
            "The records are of an older version. Bring them up to date with: exchange records"
            " upgrade"
        )
    return house


def write_log(settings: Settings) -> None:
    """Write what the running program tells to standard error, one line each."""
    logging.basicConfig(
        level=settings.log_level,
        stream=sys.stderr,
        format="%(asctime)s %(levelname)s %(name)s: %(message)s",
    )
