"""The replay of past springs on a terminal."""

from pathlib import Path

import click


@click.command()
@click.argument(
    "files",
    nargs=-1,
    required=True,
    metavar="DAILY.csv...",
    type=click.Path(exists=True, dir_okay=False, path_type=Path),
)
@click.option(
    "--at",
    "positions",
    multiple=True,
    nargs=2,
    type=click.FloatRange(-180, 180),
    metavar="LATITUDE LONGITUDE",
    help="Where a file's station stands, once for each file in their order.",
)
@click.option(
    "--page",
    type=click.Path(dir_okay=False, path_type=Path),
    default=Path("replay.html"),
    show_default=True,
    help="Where the charts are written.",
)
@click.option(
    "--seed", default=1, show_default=True, help="Of all draws; the same seed, the same figures."
)
def replay(
    files: tuple[Path, ...], positions: tuple[tuple[float, float], ...], page: Path, seed: int
) -> None:
    """Try the posting rule on past springs, beside rules of thumb.

    Each file holds a station's daily minima: columns date and tmin_c [degrees C]. Parcels travel between
    different files; with one file, within it. Without --at, any two files count as 300 km apart.

    \b
    Example:
      exchange replay dublin.csv hoogeveen.csv --at 53.43 -6.25 --at 52.75 6.57
    """
    import numpy as np

    from exchange.actions.weather.replay import (
        UnevenPositionsError,
        UnreadableDailyFileError,
        replay_files,
        write_page,
    )
    from exchange.domain.posting.replay.process import Process
    from exchange.domain.posting.replay.springs import NoSpringsError
    from exchange.words.weather import replay as words

    def progress(process: Process, done: int, of: int) -> None:
        said = f"{words.process_name(process)}: {done} of {of} evenings"
        click.echo(f"\r{said}".ljust(60), nl=False, err=True)

    try:
        found = replay_files(files, positions, np.random.default_rng(seed), progress)
    except (UnreadableDailyFileError, UnevenPositionsError, NoSpringsError) as refused:
        raise click.ClickException(str(refused)) from refused
    click.echo("", err=True)
    write_page(found, page)
    click.echo(words.heading(found) + "\n")
    for one in found.found:
        click.echo(f"{words.title(one)}\n{words.rules_table(one)}\n{words.share(one)}\n")
    click.echo("\n".join(words.notes()))
    click.echo(f"The charts are in {page}.")
