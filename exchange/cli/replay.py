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
    "--picture",
    type=click.Path(dir_okay=False, path_type=Path),
    default=Path("replay.svg"),
    show_default=True,
    help="Where the picture is written.",
)
@click.option(
    "--seed", default=1, show_default=True, help="Of all draws; the same seed, the same figures."
)
@click.option("--parcels", default=60, show_default=True, help="Parcels a spring.")
def replay(files: tuple[Path, ...], picture: Path, seed: int, parcels: int) -> None:
    """Try the posting rule on past springs, beside what others do.

    Each file holds a station's daily minima: columns date and tmin_c [degrees C]. Parcels travel between
    different files; with one file, within it.

    \b
    Example:
      exchange replay dublin.csv hoogeveen.csv --picture springs.svg
    """
    import numpy as np

    from exchange.actions.weather.replay import (
        UnreadableDailyFileError,
        replay_files,
        write_picture,
    )
    from exchange.domain.posting.replay.springs import NoSpringsError
    from exchange.words.weather import replay as words

    def progress(stage: str, done: int, of: int) -> None:
        click.echo(f"\r{words.stage(stage)}: {done} of {of}".ljust(60), nl=False, err=True)

    try:
        found = replay_files(files, np.random.default_rng(seed), progress, parcels)
    except (UnreadableDailyFileError, NoSpringsError) as refused:
        raise click.ClickException(str(refused)) from refused
    click.echo("", err=True)
    write_picture(found, picture)
    for part in (
        words.heading(found),
        words.rules_table(found),
        words.prices_table(found),
        words.bounds_table(found),
        "\n".join(words.notes()),
    ):
        click.echo(part + "\n")
    click.echo(f"The picture is in {picture}.")
