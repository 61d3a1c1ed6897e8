"""The one entry point, `exchange`: a table of commands, each imported when it is run."""

from pathlib import Path

import click

from exchange.cli.frame import Door, Entry, LazyGroup

ENTRIES = {
    "demo": Entry("exchange.cli.demo:demo", "Build an invented circle and show its pages."),
    "init": Entry("exchange.cli.install:init", "Set up a circle in its own folder."),
    "serve": Entry("exchange.cli.serve:serve", "Show the pages and do the jobs in hand."),
    "jobs": Entry("exchange.cli.jobs:jobs", "Do the jobs in hand, without the pages."),
    "run": Entry("exchange.cli.jobs:run", "Do one named job now."),
    "invite": Entry("exchange.cli.invite:invite", "Make a sign-in link for a member."),
    "forecast": Entry("exchange.cli.season:forecast", "Fetch the forecast for every place."),
    "plan": Entry("exchange.cli.season:plan", "Work out the posting day of every parcel."),
    "share-out": Entry(
        "exchange.cli.share_out:share_out", "Work out, confirm or check a share-out."
    ),
    "papers": Entry("exchange.cli.season:papers", "Write the packing slips and care sheets."),
    "replay": Entry("exchange.cli.replay:replay", "Try the posting rule on past springs."),
    "list": Entry("exchange.cli.lists:list_", "Write a list of the circle as CSV or text."),
    "export": Entry("exchange.cli.circle_file:export", "Write everything of a circle as JSON."),
    "import": Entry("exchange.cli.circle_file:import_", "Take in a circle from such a file."),
    "backup": Entry("exchange.cli.backup:backup", "Write a backup of all circles into a file."),
    "restore": Entry("exchange.cli.backup:restore", "Set up a folder from a backup."),
    "records": Entry(
        "exchange.cli.records:records", "Bring the records up to date, or check them."
    ),
}


@click.group(
    cls=LazyGroup,
    entries=ENTRIES,
    context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100},
)
@click.version_option(package_name="growers-circle-exchange", prog_name="exchange")
@click.option(
    "--folder",
    type=click.Path(path_type=Path, file_okay=False),
    help="The circle's data folder; otherwise EXCHANGE_DATA_FOLDER, otherwise ~/growers-circle.",
)
@click.pass_context
def main(context: click.Context, folder: Path | None) -> None:
    """Share spare plants within a circle of growers, and post them on a safe day.

    \b
    Examples:
      exchange demo
      exchange --folder ~/our-circle init
      exchange --folder ~/our-circle serve
    """
    context.obj = Door(folder)
