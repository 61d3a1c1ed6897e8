"""The demo: an invented circle, served, or its whole main job written into a folder."""

import os
from collections.abc import Callable
from dataclasses import replace
from datetime import datetime
from hashlib import sha256
from itertools import count
from pathlib import Path
from secrets import token_urlsafe
from tempfile import TemporaryDirectory
from typing import TYPE_CHECKING

import click

from exchange import paths
from exchange.settings import Settings, read_settings

if TYPE_CHECKING:
    from exchange.actions.demo.build import Demo


@click.command()
@click.option("--once", is_flag=True, help="Serve nothing: do the whole main job and end.")
@click.option(
    "--out",
    type=click.Path(path_type=Path, file_okay=False),
    help="With --once: the folder that is written to.",
)
@click.option(
    "--forecast",
    type=click.Path(path_type=Path, exists=True, dir_okay=False),
    help="Another saved forecast instead of the demo's own.",
)
@click.option("--no-forecast", is_flag=True, help="No forecast at all: usual weather only.")
def demo(*, once: bool, out: Path | None, forecast: Path | None, no_forecast: bool) -> None:
    """Build an invented circle, on Monday 5 April 2027, and show its pages.

    \b
    Examples:
      exchange demo
      exchange demo --once --out demo-season
      exchange demo --once --out demo-season --no-forecast
    """
    if once != (out is not None):
        raise click.UsageError("--once and --out FOLDER go together.")
    if no_forecast and forecast is not None:
        raise click.UsageError("Give either --forecast or --no-forecast, not both.")
    saved = None if no_forecast else (forecast or paths.DEMO_DATA / "forecast.json")
    with TemporaryDirectory(prefix="circle-demo-") as folder:
        settings = _settings(Path(folder), saved)
        if out is not None:
            _write(settings, out)
        else:
            _serve(settings)


def _settings(folder: Path, saved: Path | None) -> Settings:
    """Give the demo's settings: its own folder and forecast, no mail; port and host as set."""
    kept = {
        name: value
        for name, value in os.environ.items()
        if name in {"EXCHANGE_HOST", "EXCHANGE_PORT", "EXCHANGE_PAPER_SIZE"}
    }
    source = "none" if saved is None else "saved"
    settings = read_settings(kept, folder)
    return replace(settings, forecast_source=source, forecast_file=saved)


def _write(settings: Settings, out: Path) -> None:
    from exchange.actions.demo.once import run_once
    from exchange.actions.kernel.refusals import RefusedError
    from exchange.actions.kernel.services import open_house

    # The same secrets each time, so that the same command writes the same bytes; nothing is served.
    house = open_house(settings, _told_secrets())
    try:
        click.echo(run_once(house, out))
    except RefusedError as refused:
        raise click.ClickException(str(refused)) from refused
    finally:
        house.books.close()


def _told_secrets() -> Callable[[], str]:
    numbers = count(1)
    return lambda: sha256(f"demo {next(numbers)}".encode()).hexdigest()


def _serve(settings: Settings) -> None:
    import waitress

    from exchange.actions.demo.build import build_demo
    from exchange.actions.demo.clock import demo_clock
    from exchange.actions.kernel.services import open_house
    from exchange.app import create_app
    from exchange.jobs.worker import Jobs, machine_clock, open_queue

    click.echo("Building the demo circle ...")
    house = open_house(settings, token_urlsafe)
    built = build_demo(house)
    clock = demo_clock(built, machine_clock)
    jobs = Jobs(house, open_queue(settings.data_folder, settings.database), clock)
    app = create_app(settings, jobs.house, clock)
    click.echo(_welcome(settings, built, clock()))
    jobs.start()
    try:
        waitress.serve(app, host=settings.host, port=settings.port, threads=8, ident="exchange")
    except OSError as error:
        raise click.ClickException(
            f"Port {settings.port} cannot be used: {error.strerror}. Choose another with"
            " EXCHANGE_PORT."
        ) from error
    finally:
        jobs.stop()


def _welcome(settings: Settings, built: "Demo", now: datetime) -> str:
    from exchange.actions.demo.sign_in_links import demo_links

    lines = [f"The demo circle is at {settings.address}. It stands on Monday 5 April 2027."]
    lines += [f"  {who}: {link}" for who, link in demo_links(built, now)]
    return "\n".join([*lines, "Each link signs in once. End with Ctrl+C."])
