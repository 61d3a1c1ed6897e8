"""The worker by itself, and single jobs."""

from typing import Any

import click

from exchange.cli.frame import Door, pass_door


@click.command()
@pass_door
def jobs(door: Door) -> None:
    """Do the jobs in hand, without the pages, until it is told to end.

    \b
    Example:
      exchange --folder ~/our-circle jobs
    """
    from exchange.cli.house import ready_house, write_log
    from exchange.jobs.worker import Jobs, open_queue

    settings = door.settings()
    write_log(settings)
    house = ready_house(settings)
    Jobs(house, open_queue(settings.data_folder, settings.database)).run_forever()


def _list_jobs(context: click.Context, _option: click.Parameter, wanted: bool) -> None:
    if not wanted or context.resilient_parsing:
        return
    from exchange.jobs.table import JOBS

    for name, job in JOBS.items():
        click.echo(f"{name:12} {job.summary}")
    context.exit()


@click.command()
@click.argument("name")
@click.option(
    "--list",
    is_flag=True,
    is_eager=True,
    expose_value=False,
    callback=_list_jobs,
    help="List the jobs there are.",
)
@pass_door
def run(door: Door, name: str) -> None:
    """Do one named job now, in every circle.

    \b
    Examples:
      exchange run --list
      exchange run letters
    """
    from exchange.cli.house import ready_house
    from exchange.jobs.round import run_now
    from exchange.jobs.table import JOBS
    from exchange.jobs.worker import machine_clock

    if name not in JOBS:
        raise click.UsageError(f"There is no job {name}; there are {', '.join(JOBS)}.")
    told: list[Any] = run_now(ready_house(door.settings()), name, machine_clock)
    for line in told:
        click.echo(line)
