"""Places in the members' words."""

from datetime import date, timedelta

from exchange.domain.circle.place import Lie
from exchange.domain.growing.room import POTS_A_TRAY
from exchange.domain.weather.frost import SPRING_ENDS
from exchange.words.kernel import dates
from exchange.words.kernel.phrase import NBSP, counted

WEEKDAYS = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")
_LIES = {
    Lie.OPEN: "open, neither in a hollow nor in a town",
    Lie.HOLLOW: "in a hollow or at the foot of a slope, where cold air gathers",
    Lie.TOWN: "among houses in a town",
    Lie.COAST: "within sight of the sea",
}


def weekday_words(number: int) -> str:
    """Give "Monday" for 0."""
    return WEEKDAYS[number]


def lie_words(lie: Lie) -> str:
    """Say how a place lies."""
    return _LIES[lie]


def spring_weeks() -> list[tuple[int, str]]:
    """Give the weeks of spring: the day after each, as the day of a 365-day year, and "3 to 9 May"."""
    first = date(2001, 3, 1)
    weeks = []
    while (after := first + timedelta(days=7)).timetuple().tm_yday <= SPRING_ENDS:
        last = after - timedelta(days=1)
        begins = (
            f"{first.day}" if first.month == last.month else f"{first.day} {dates.month(first)}"
        )
        weeks.append((after.timetuple().tm_yday, f"{begins} to {last.day} {dates.month(last)}"))
        first = after
    return weeks


def room_words(pots: int | None) -> str:
    """Say how much room there is, in the seed trays it was asked in."""
    if pots is None:
        return "no limit given"
    trays = pots / POTS_A_TRAY
    text = f"{trays:.1f}".removesuffix(".0")
    noun = "seed tray" if trays == 1 else "seed trays"
    return "{trays}, that is {pots}".format(
        trays=f"{text}{NBSP}{noun}", pots=counted(pots, "pot", "pots")
    )


def height_words(metres: float | None, source: str) -> str:
    """Say how high a place lies, and who says so."""
    if metres is None:
        return "not known, so nights are not corrected for height"
    known = f"{metres:.0f}{NBSP}m"
    return known if source == "said" else f"{known}, by the forecast"
