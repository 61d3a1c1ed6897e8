"""Serving the pages, with the worker beside them."""

import signal
import sys

import click

from exchange.cli.frame import Door, pass_door
from exchange.cli.home_network import at_home
from exchange.settings import Settings
from exchange.words.kernel.addresses import only_here

THREADS = 8
NO_NETWORK = (
    "This machine is on no network just now, so nobody else could open the pages. Join the home"
    " network, or serve without --home for this machine alone."
)


@click.command()
@click.option("--threads", default=THREADS, show_default=True, help="Visitors served at once.")
@click.option("--home", is_flag=True, help="Listen on the home network, for others in the house.")
@pass_door
def serve(door: Door, threads: int, *, home: bool) -> None:
    """Show the pages and do the jobs in hand, until it is told to end.

    \b
    Examples:
      exchange --folder ~/our-circle serve
      exchange --folder ~/our-circle serve --home
    """
    import waitress

    from exchange.app import create_app
    from exchange.cli.house import ready_house, write_log
    from exchange.jobs.worker import Jobs, open_queue

    settings = at_home(door.settings()) if home else door.settings()
    if home and only_here(settings.address):
        raise click.ClickException(NO_NETWORK)
    write_log(settings)
    house = ready_house(settings)
    jobs = Jobs(house, open_queue(settings.data_folder, settings.database))
    app = create_app(settings, jobs.house)
    signal.signal(signal.SIGTERM, lambda _number, _frame: sys.exit(0))
    if settings.worker_in_web:
        jobs.start()
    click.echo(_where(settings))
    try:
        # ProxyFix reads the forwarded headers, which waitress would otherwise strip.
        waitress.serve(
            app,
            host=settings.host,
            port=settings.port,
            threads=threads,
            ident="exchange",
            clear_untrusted_proxy_headers=settings.proxy_hops == 0,
        )
    finally:
        jobs.stop()


def _where(settings: Settings) -> str:
    """Say where the pages are, to be scanned on the home network, and who can open them."""
    if only_here(settings.address):
        return (
            f"The pages are at {settings.address}. {only_here(settings.address)} End with Ctrl+C."
        )
    lines = [f"The pages are at {settings.address}. End with Ctrl+C."]
    if settings.home_network:
        from exchange.actions.kernel.scanning import address_to_scan

        if sys.stdout.isatty():
            # Line by line: a coloured line break would colour the rest of the window.
            picture = address_to_scan(settings.address).splitlines()
            lines += [click.style(one, fg="black", bg="bright_white") for one in picture]
        lines.append("Telephones and computers on the same network open it by that address.")
    return "\n".join(lines)
