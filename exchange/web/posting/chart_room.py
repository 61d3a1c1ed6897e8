"""Room for pots, week by week: every pot drawn, on its staging."""

from collections.abc import Sequence
from dataclasses import dataclass

from exchange.web.frame.chart_figure import NARROW, WIDE, Text, Words, tidy
from exchange.web.frame.chart_glyphs import POT, POT_CROSS, POT_DOT, GlyphGrid, Place, stamp

_POT_X = 16.6
_POT_Y = 16.0
_MOST_DRAWN = 44
_NARROW_COLUMNS = 12
_NARROW_LEFT = 86.0


@dataclass(frozen=True, slots=True)
class RoomWeek:
    """One week.

    Attributes
    ----------
    title : "3 May"
    standing, kept : pots that stand, places kept for what comes [pots]
    places : how many there is room for; None says no limit [pots]
    """

    title: str
    standing: int
    kept: int
    places: int | None
    said: str = ""

    @property
    def is_over(self) -> bool:
        return self.places is not None and self.standing + self.kept > self.places

    @property
    def without_place(self) -> int:
        return max(self.standing + self.kept - self.places, 0) if self.places is not None else 0


@dataclass(frozen=True, slots=True)
class PotPaths:
    """The pots of one week as paths."""

    standing: str
    kept: str
    kept_dots: str
    free: str
    over: str
    over_crosses: str


@dataclass(frozen=True, slots=True)
class Shelf:
    """A drawn week; the staging runs from `left` to `right` at `ground`."""

    pots: PotPaths
    left: float
    right: float
    ground: float
    texts: tuple[Text, ...]


@dataclass(frozen=True, slots=True)
class RoomDrawing:
    """One drawing."""

    width: float
    height: float
    shelves: tuple[Shelf, ...]


@dataclass(frozen=True, slots=True)
class RoomView:
    """Room by week; one pot drawn stands for `pots_each`."""

    wide: RoomDrawing
    narrow: RoomDrawing
    words: Words
    pots_each: int
    has_over: bool


def draw_room(weeks: Sequence[RoomWeek], words: Words) -> RoomView:
    """Draw the weeks; where there are many pots, one drawn stands for several."""
    most = max((_all(week) for week in weeks), default=0)
    each = max(-(-most // _MOST_DRAWN), 1)
    return RoomView(
        wide=_wide(weeks, each),
        narrow=_narrow(weeks, each),
        words=words,
        pots_each=each,
        has_over=any(week.is_over for week in weeks),
    )


def _all(week: RoomWeek) -> int:
    return max(week.standing + week.kept, week.places or 0)


def _drawn(pots: int, each: int) -> int:
    return -(-pots // each)


def _pots(week: RoomWeek, each: int, grid: GlyphGrid) -> PotPaths:
    """Sort the places: standing first, then kept, then free; those without a place come last."""
    over = _drawn(week.without_place, each)
    used = _drawn(week.standing + week.kept, each)
    standing = min(_drawn(week.standing, each), used - over)
    room = _drawn(week.places, each) if week.places is not None else used
    places = [grid.place(index) for index in range(max(used, room))]

    def some(first: int, last: int) -> list[Place]:
        return places[first : max(last, first)]

    kept = some(standing, used - over)
    beyond = some(used - over, used)
    return PotPaths(
        standing=stamp(POT, places[:standing]),
        kept=stamp(POT, kept),
        kept_dots=stamp(POT_DOT, kept),
        free=stamp(POT, some(used, room)) if not over else "",
        over=stamp(POT, beyond),
        over_crosses=stamp(POT_CROSS, beyond),
    )


def _label(week: RoomWeek) -> str:
    count = week.standing + week.kept
    return week.said or (str(count) if week.places is None else f"{count} of {week.places}")


def _wide(weeks: Sequence[RoomWeek], each: int) -> RoomDrawing:
    step = WIDE / max(len(weeks), 1)
    columns = max(int((step - 10) // _POT_X), 1)
    rows = max(
        (GlyphGrid(columns, 0, 0).rows(_drawn(_all(week), each)) for week in weeks), default=1
    )
    ground = tidy(rows * _POT_Y + 4)
    shelves = []
    for place, week in enumerate(weeks):
        left = tidy(place * step)
        grid = GlyphGrid(columns, _POT_X, _POT_Y, left + 2, ground - _POT_Y, upward=True)
        middle = tidy(left + columns * _POT_X / 2 + 1)
        look = "over" if week.is_over else ""
        texts = (
            Text(middle, ground + 24, week.title, "middle", "serif"),
            Text(middle, ground + 46, _label(week), "middle", look),
        )
        right = tidy(left + columns * _POT_X + 2)
        shelves.append(Shelf(_pots(week, each, grid), left, right, ground, texts))
    return RoomDrawing(WIDE, ground + 54, tuple(shelves))


def _narrow(weeks: Sequence[RoomWeek], each: int) -> RoomDrawing:
    shelves, top = [], 6.0
    for week in weeks:
        rows = GlyphGrid(_NARROW_COLUMNS, 0, 0).rows(max(_drawn(_all(week), each), 1))
        ground = top + max(rows * _POT_Y, 34) + 2
        grid = GlyphGrid(
            _NARROW_COLUMNS, _POT_X, _POT_Y, _NARROW_LEFT + 2, ground - _POT_Y, upward=True
        )
        look = "over" if week.is_over else ""
        texts = (
            Text(0, ground - 22, week.title, "start", "serif"),
            Text(0, ground - 2, _label(week), "start", look),
        )
        right = _NARROW_LEFT + _NARROW_COLUMNS * _POT_X + 3
        shelves.append(Shelf(_pots(week, each, grid), _NARROW_LEFT, right, ground, texts))
        top = ground + 14
    return RoomDrawing(NARROW, tidy(top), tuple(shelves))
