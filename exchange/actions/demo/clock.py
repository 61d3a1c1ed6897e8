"""The clock the demo is served by: it opens at the demo's hour, whatever hour the machine has."""

from collections.abc import Callable
from datetime import datetime
from zoneinfo import ZoneInfo

from exchange.actions.demo.build import Demo


def demo_clock(demo: Demo, machine: Callable[[], datetime]) -> Callable[[], datetime]:
    """Give a clock that runs as the machine's does and, as it is made, has the demo's time of day.

    A circle on a fixed day takes its time of day from the clock it is served by. By the machine's, a demo begun
    in the evening would show a forecast twelve hours older than one begun in the morning.
    """
    here = ZoneInfo(demo.data.circle["zone"])
    begun = machine().astimezone(here)
    opens = demo.data.now.astimezone(here)
    ahead = datetime.combine(begun.date(), opens.time(), here) - begun
    return lambda: machine() + ahead
