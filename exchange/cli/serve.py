"""Serving the pages, with the worker beside them."""

import signal
import sys

import click

from exchange.cli.frame import Door, pass_door

THREADS = 8


@click.command()
@click.option("--threads", default=THREADS, show_default=True, help="Visitors served at once.")
@pass_door
def serve(door: Door, threads: int) -> None:
    """Show the pages and do the jobs in hand, until it is told to end.

    \b
    Example:
      exchange --folder ~/our-circle serve
    """
    import waitress

    from exchange.app import create_app
    from exchange.cli.house import ready_house, write_log
    from exchange.jobs.worker import Jobs, open_queue

    settings = door.settings()
    write_log(settings)
    house = ready_house(settings)
    jobs = Jobs(house, open_queue(settings.data_folder, settings.database))
    app = create_app(settings, jobs.house)
    signal.signal(signal.SIGTERM, lambda _number, _frame: sys.exit(0))
    if settings.worker_in_web:
        jobs.start()
    click.echo(f"The pages are at {settings.address}. End with Ctrl+C.")
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
