"""The demo circle, built and planned in this process, for tests that look at all of it."""

from contextlib import contextmanager
from dataclasses import replace

from exchange.actions.demo.build import Demo, build_demo, do_main_job
from exchange.paths import DEMO_DATA
from tests.app_fixtures import Clock, Site, site


@contextmanager
def demo_site(folder):
    """Give the demo's pages after its closing day's work, and what it was built as."""
    forecast = DEMO_DATA / "forecast.json"
    with site(folder, forecast_source="saved", forecast_file=forecast) as made:
        demo: Demo = build_demo(made.house)
        do_main_job(demo)
        made.clock.at = demo.data.now
        yield replace(made, clock=made.clock), demo


__all__ = ["Clock", "Site", "demo_site"]
