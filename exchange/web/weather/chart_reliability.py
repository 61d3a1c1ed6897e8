"""How often frost came for each chance stated: a square of stated against observed."""

from collections.abc import Sequence
from dataclasses import dataclass

from exchange.web.frame.chart_figure import Text, Words, tidy

SIDE = 290
_LEFT, _RIGHT, _TOP, _BOTTOM = 44.0, 270.0, 12.0, 238.0
_SMALLEST, _LARGEST = 4.0, 11.0


@dataclass(frozen=True, slots=True)
class Tenth:
    """One tenth of the chances said.

    Attributes
    ----------
    stated, came : mean chance said, and share of nights with frost, both 0 to 1
    nights : how many [nights]
    """

    stated: float
    came: float
    nights: int


@dataclass(frozen=True, slots=True)
class ReliabilityBin:
    """A tenth in the square; the larger, the more nights stand behind it."""

    x: float
    y: float
    radius: float


@dataclass(frozen=True, slots=True)
class ReliabilityView:
    """The square: marks near the diagonal were right."""

    marks: tuple[ReliabilityBin, ...]
    line: str
    frame: str
    texts: tuple[Text, ...]
    words: Words
    side: int = SIDE


def draw_reliability(tenths: Sequence[Tenth], words: Words, across: str) -> ReliabilityView:
    """Draw the tenths that occur.

    Parameters
    ----------
    across : what stands under the square
    """
    most = max((one.nights for one in tenths), default=1)
    marks = tuple(
        ReliabilityBin(_x(one.stated), _y(one.came), _radius(one.nights / most)) for one in tenths
    )
    texts = [Text((_LEFT + _RIGHT) / 2, SIDE - 4, across, "middle", "soft")]
    for share in (0.0, 0.5, 1.0):
        name = str(round(share * 100))
        texts += [
            Text(_x(share), _BOTTOM + 20, name, "middle"),
            Text(_LEFT - 8, _y(share) + 5, name, "end"),
        ]
    return ReliabilityView(
        marks=marks,
        line=f"M{_LEFT} {_BOTTOM}L{_RIGHT} {_TOP}",
        frame=f"M{_LEFT} {_TOP}V{_BOTTOM}H{_RIGHT}",
        texts=tuple(texts),
        words=words,
    )


def _x(share: float) -> float:
    return tidy(_LEFT + share * (_RIGHT - _LEFT))


def _y(share: float) -> float:
    return tidy(_BOTTOM - share * (_BOTTOM - _TOP))


def _radius(share: float) -> float:
    """Give a radius whose area grows with the nights, never too small to see."""
    return tidy(_SMALLEST + (_LARGEST - _SMALLEST) * share**0.5)
