"""The whole demo: the circle settles, lists, claims; on request it is shared out and planned."""

from dataclasses import dataclass

from exchange.actions.circle.set_up import upgrade_records
from exchange.actions.demo.data import DemoData, demo_data
from exchange.actions.demo.people import Settled, settle
from exchange.actions.demo.season import Listed, list_season
from exchange.actions.kernel.actor import House, clock_actor
from exchange.actions.posting.replan import Replanned, replan
from exchange.actions.sharing.share_out import confirm_share_out, work_out_share_out
from exchange.actions.weather.forecasts import FetchResult, fetch_forecasts
from exchange.domain.sharing.share_out import ShareOut, never_stop


@dataclass(frozen=True)
class Demo:
    """The demo circle before its closing day's work is done."""

    data: DemoData
    settled: Settled
    listed: Listed
    fetched: FetchResult


@dataclass(frozen=True)
class Done:
    """The closing day's work."""

    share_out: ShareOut
    replanned: Replanned


def build_demo(house: House) -> Demo:
    """Build the demo circle in an empty database, up to its closing day; set-aside spares are planned."""
    data = demo_data()
    upgrade_records(house, data.now.date())
    settled = settle(house, data)
    listed = list_season(data, settled)
    fetched = fetch_forecasts(clock_actor(house, settled.circle_id), data.now)
    replan(settled.organiser, data.now)
    return Demo(data, settled, listed, fetched)


def do_main_job(demo: Demo) -> Done:
    """Share out, confirm and plan, as the organiser would on the closing day."""
    organiser, now = demo.settled.organiser, demo.data.now
    found = work_out_share_out(organiser, demo.listed.share_out_id, never_stop, now)
    confirm_share_out(organiser, demo.listed.share_out_id, now)
    return Done(found, replan(organiser, now))
