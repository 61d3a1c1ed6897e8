"""Plants by the week they went: alive above the ground line, lost hatched below it; narrow, it lies down."""

from collections.abc import Sequence
from dataclasses import dataclass

from exchange.web.frame.chart_figure import NARROW, WIDE, Text, Words, tidy

_TOP, _ROOM, _UNDER, _FOOT = 22.0, 110.0, 46.0, 26.0
_MOST_WIDE = 52.0
_LABEL_NEEDS = 50.0
"""Width a label under a column needs; with less, every second one is left out."""
_ROW, _LEFT, _SAID = 30.0, 62.0, 96.0


@dataclass(frozen=True, slots=True)
class SeasonWeek:
    """Plants of a week.

    Attributes
    ----------
    label : "12 Apr"
    alive, lost : of those heard of [plants]
    """

    label: str
    alive: int
    lost: int


@dataclass(frozen=True, slots=True)
class SeasonBar:
    """A rectangle."""

    x: float
    y: float
    width: float
    height: float


@dataclass(frozen=True, slots=True)
class SeasonDrawing:
    """One drawing: bars of what came alive, of what did not, the ground line, words."""

    width: float
    height: float
    alive: tuple[SeasonBar, ...]
    lost: tuple[SeasonBar, ...]
    ground: str
    texts: tuple[Text, ...]


@dataclass(frozen=True, slots=True)
class SeasonView:
    """The weeks, wide and narrow."""

    wide: SeasonDrawing
    narrow: SeasonDrawing
    words: Words


def draw_season(weeks: Sequence[SeasonWeek], words: Words) -> SeasonView:
    """Draw the weeks; one scale serves what lives and what was lost."""
    return SeasonView(_standing(weeks), _lying(weeks), words)


def _standing(weeks: Sequence[SeasonWeek]) -> SeasonDrawing:
    most = max((one.alive for one in weeks), default=1) or 1
    deepest = max((one.lost for one in weeks), default=0)
    unit = min(_ROOM / most, _UNDER / deepest if deepest else _ROOM)
    step = WIDE / max(len(weeks), 1)
    width = min(_MOST_WIDE, step * 0.7)
    ground = _TOP + unit * most
    foot = ground + unit * deepest + _FOOT
    alive, lost, texts = [], [], []
    for place, one in enumerate(weeks):
        middle = tidy((place + 0.5) * step)
        left = tidy(middle - width / 2)
        if one.alive:
            high = tidy(unit * one.alive)
            alive.append(SeasonBar(left, tidy(ground - high), tidy(width), high))
            texts.append(Text(middle, tidy(ground - high - 6), str(one.alive), "middle"))
        if one.lost:
            deep = tidy(unit * one.lost)
            lost.append(SeasonBar(left, tidy(ground), tidy(width), deep))
            texts.append(Text(middle, tidy(ground + deep + 17), str(one.lost), "middle", "over"))
        if step >= _LABEL_NEEDS or place % 2 == 0:
            texts.append(Text(middle, tidy(foot + 18), one.label, "middle", "soft"))
    line = f"M0 {tidy(ground)}H{WIDE}"
    return SeasonDrawing(WIDE, tidy(foot + 24), tuple(alive), tuple(lost), line, tuple(texts))


def _lying(weeks: Sequence[SeasonWeek]) -> SeasonDrawing:
    """Let the weeks run down; to the right of what lives stands what was lost, hatched."""
    most = max((one.alive + one.lost for one in weeks), default=1) or 1
    unit = (NARROW - _LEFT - _SAID) / most
    alive, lost, texts = [], [], []
    for place, one in enumerate(weeks):
        top = place * _ROW + 5
        line = tidy(top + 15)
        end = tidy(_LEFT + unit * one.alive)
        texts.append(Text(_LEFT - 8, line, one.label, "end", "soft"))
        if one.alive:
            alive.append(SeasonBar(_LEFT, tidy(top), tidy(end - _LEFT), _ROW - 10))
        said = str(one.alive) if one.alive or one.lost else ""
        if one.lost:
            lost.append(SeasonBar(end, tidy(top), tidy(unit * one.lost), _ROW - 10))
            end = tidy(end + unit * one.lost)
            said = f"{one.alive}, {one.lost} lost"
        if said:
            texts.append(Text(tidy(end + 6), line, said))
    height = tidy(max(len(weeks), 1) * _ROW)
    return SeasonDrawing(
        NARROW, height, tuple(alive), tuple(lost), f"M{_LEFT} 0V{height}", tuple(texts)
    )
