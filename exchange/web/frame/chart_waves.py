"""Lines of temperature that swing between the lows and highs of days, as smooth paths.

Between a low and a high the temperature is drawn as half a cosine. One cubic curve whose handles
are level and `_HANDLE` of the way along lies within 0.3 % of its height, so a day needs two curves.
"""

import itertools
from collections.abc import Sequence
from dataclasses import dataclass

from exchange.web.frame.chart_figure import Scale, number

DAY_WIDTH = 100.0
LOW_HOUR = 5.0
HIGH_HOUR = 15.0
_HANDLE = 0.3642

Point = tuple[float, float]


@dataclass(frozen=True, slots=True)
class TraceDay:
    """One day's temperatures at one place.

    Attributes
    ----------
    low_c, high_c : the middle expectation, lowest about 5 am, highest about 3 pm [degrees C]
    low_span_c, high_span_c : eight days in ten lie between these [degrees C]
    is_forecast : False where only what is usual for the date is known
    """

    low_c: float
    high_c: float
    low_span_c: tuple[float, float]
    high_span_c: tuple[float, float]
    is_forecast: bool = True


@dataclass(frozen=True, slots=True)
class Wave:
    """The turning points of a line over one week; x in hundredths of a day from its first day."""

    points: tuple[Point, ...]

    def path(self) -> str:
        """Give the path from the first point to the last."""
        first = self.points[0]
        return f"M{number(first[0])} {number(first[1])}" + self._curves(self.points)

    def closed_with(self, other: "Wave") -> str:
        """Give the outline of the band between this line and another."""
        back = tuple(reversed(other.points))
        return f"{self.path()}L{number(back[0][0])} {number(back[0][1])}{self._curves(back)}Z"

    def closed_at(self, y: float) -> str:
        """Give the outline of what lies between this line and a level."""
        return f"{self.path()}V{number(y)}H{number(self.points[0][0])}Z"

    @staticmethod
    def _curves(points: Sequence[Point]) -> str:
        drawn = []
        for (x, y), (to_x, to_y) in itertools.pairwise(points):
            handle = _HANDLE * (to_x - x)
            drawn.append(
                f"C{number(x + handle)} {number(y)} {number(to_x - handle)} {number(to_y)}"
                f" {number(to_x)} {number(to_y)}"
            )
        return "".join(drawn)


def wave(spans: Sequence[tuple[float, float]], scale: Scale, first: int) -> Wave:
    """Draw the line through the low and high of consecutive days, the first `first` days along.

    It is led in from a high the day before and out to a low the day after, as like the days at the
    ends as possible, so that no week begins or ends in mid-air.
    """
    points = []
    for place, (low, high) in enumerate(spans):
        left = (first + place) * DAY_WIDTH
        points.append((left + LOW_HOUR / 24 * DAY_WIDTH, scale.place(low)))
        points.append((left + HIGH_HOUR / 24 * DAY_WIDTH, scale.place(high)))
    lead_in = (points[1][0] - DAY_WIDTH, points[1][1])
    lead_out = (points[-2][0] + DAY_WIDTH, points[-2][1])
    return Wave((lead_in, *points, lead_out))
