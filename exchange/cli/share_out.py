"""The share-out on a terminal: worked out, confirmed, checked."""

from pathlib import Path

import click

from exchange.cli.frame import Door, pass_door
from exchange.cli.season import circle_option, working_actor


@click.group("share-out")
def share_out() -> None:
    """Work out, confirm or check a share-out.

    \b
    Examples:
      exchange share-out work-out
      exchange share-out confirm
      exchange share-out check working.json
    """


def _show(stage: str, value: float | None, bound: float | None) -> bool:
    figures = "" if value is None else f" {value:g}" + ("" if bound is None else f" of {bound:g}")
    click.echo(f"{stage}{figures}", err=True)
    return False


@share_out.command("work-out")
@circle_option
@pass_door
def work_out(door: Door, circle: str) -> None:
    """Work out the open share-out and show it; nobody is told yet.

    \b
    Example:
      exchange share-out work-out
    """
    from exchange.actions.circle.season_file import work_out_as_text

    with working_actor(door, circle) as actor:
        click.echo(work_out_as_text(actor, _show, door.now()))


@share_out.command("confirm")
@circle_option
@pass_door
def confirm(door: Door, circle: str) -> None:
    """Confirm what was worked out: the plants are given and everybody is told.

    The running program then plans the parcels; "exchange plan" does it at once.

    \b
    Example:
      exchange share-out confirm
    """
    from exchange.actions.sharing.share_out import confirm_share_out

    with working_actor(door, circle) as actor:
        confirmed = confirm_share_out(actor, None, door.now())
    click.echo(f"{confirmed.plants} plants are given; {confirmed.met} claims are met in full.")


@share_out.command("check")
@click.argument("file", type=click.Path(path_type=Path, exists=True, dir_okay=False))
@click.option("--circle", default=None, help="Compare it with the records of this circle, too.")
@pass_door
def check(door: Door, file: Path, circle: str | None) -> None:
    """Prove a working, with a second program that knows no solver.

    With --circle its case is compared with the records, its draw number with the hash shown at
    the opening, and what it gives with what was given.

    \b
    Examples:
      exchange share-out check demo-season/working.json
      exchange share-out check working.json --circle "The Lowmoor Circle"
    """
    from exchange.actions.kernel.refusals import RefusedError
    from exchange.actions.sharing.check_records import check_with_records
    from exchange.actions.sharing.check_working import check_file

    try:
        if circle is None:
            checked = check_file(file)
        else:
            with working_actor(door, circle) as actor:
                checked = check_with_records(actor, file, door.now())
    except RefusedError as refused:
        raise click.ClickException(str(refused)) from refused
    for line in checked.lines:
        click.echo(line)
    if not checked.proven:
        raise SystemExit(1)
