"""The picture of a replay: frosted nights against days of waiting, as a drawing of its own."""

import math
from collections.abc import Sequence
from xml.sax.saxutils import escape

from exchange.domain.posting.replay.rules import RuleTally
from exchange.domain.posting.replay.run import Replay, least_at
from exchange.words.weather.replay import heading, rule_name, short_heading

WIDTH, HEIGHT = 720, 520
LEFT, RIGHT, TOP, BOTTOM = 88, 24, 64, 66
INK, SHEET, OURS, PLAIN, LEAST = "#221A27", "#FBFCF9", "#2C6E49", "#6B5B73", "#9A6A2F"
FEWEST = 0.1
"""Fewer frosted nights than this are drawn here, since the axis is logarithmic and has no zero."""
LABEL_SHIFT = 9
TEXT = "font-family='Fira Sans, sans-serif'"

Point = tuple[float, float]


class _Scale:
    """Where a wait and a count stand on the sheet; counts go by their logarithm."""

    def __init__(self, longest: float, most: float) -> None:
        self.longest, self.most = longest, max(most, 1.0)

    def at(self, wait: float, frosted: float) -> Point:
        across = LEFT + (WIDTH - LEFT - RIGHT) * min(wait, self.longest) / self.longest
        share = math.log(max(frosted, FEWEST) / FEWEST) / math.log(self.most / FEWEST)
        return across, HEIGHT - BOTTOM - (HEIGHT - TOP - BOTTOM) * share


def replay_svg(found: Replay) -> str:
    """Draw the picture as SVG text."""
    shown = [one.rule for one in found.rules if one.rule.name != "perfect foresight"]
    near = [one for one in shown if one.wait <= 2 * max(each.wait for each in found.ours)]
    longest = math.ceil(max(one.wait for one in [*near, *found.ours]) + 0.5)
    scale = _Scale(longest, max(one.frosted for one in [*near, *found.ours]) * 1.3)
    waits = [longest * step / 80 for step in range(81)]
    least = [(wait, least_at(found.bounds, wait)) for wait in waits]
    parts = [
        _frame(found),
        *_axes(scale),
        _line(scale, [(wait, low) for wait, low in least if low > FEWEST], LEAST, "2 5"),
        _line(scale, _points(found.plain), PLAIN, "7 5"),
        _line(scale, _points(found.ours), OURS, ""),
        *(_dot(scale, one, OURS) for one in found.ours),
        *_rules(scale, near),
        *_key(),
        "</svg>",
    ]
    return "\n".join(parts) + "\n"


def _points(tallies: Sequence[RuleTally]) -> list[Point]:
    return [(one.wait, one.frosted) for one in tallies]


def _frame(found: Replay) -> str:
    title = "Frosted nights on the way against days of waiting"
    return (
        f"<svg xmlns='http://www.w3.org/2000/svg' viewBox='0 0 {WIDTH} {HEIGHT}' role='img' "
        f"aria-labelledby='replay-title replay-desc'>\n<title id='replay-title'>{escape(title)}"
        f"</title>\n<desc id='replay-desc'>{escape(heading(found))}</desc>\n"
        f"<rect width='{WIDTH}' height='{HEIGHT}' fill='{SHEET}'/>\n"
        + _text((LEFT, 26), title, size=18)
        + "\n"
        + _text((LEFT, 48), short_heading(found), size=13)
    )


def _text(at: Point, words: str, size: int = 14, anchor: str = "start", colour: str = INK) -> str:
    return (
        f"<text x='{at[0]:.1f}' y='{at[1]:.1f}' {TEXT} font-size='{size}' "
        f"text-anchor='{anchor}' fill='{colour}'>{escape(words)}</text>"
    )


def _axes(scale: _Scale) -> list[str]:
    parts = []
    for frosted in (0.1, 0.3, 1, 3, 10, 30):
        if frosted <= scale.most:
            _left, down = scale.at(0, frosted)
            parts.append(_rule((LEFT, down), (WIDTH - RIGHT, down)))
            words = "0.1 or less" if frosted == FEWEST else f"{frosted:g}"
            parts.append(_text((LEFT - 6, down + 5), words, 13, "end"))
    for wait in range(int(scale.longest) + 1):
        across, down = scale.at(wait, FEWEST)
        parts.append(_rule((across, down), (across, down + 5)))
        parts.append(_text((across, down + 21), str(wait), 13, "middle"))
    parts.append(_text((WIDTH - RIGHT, HEIGHT - 26), "mean wait, days", 14, "end"))
    parts.append(_text((LEFT, HEIGHT - 26), "up: frosted nights in 100 parcels", 14))
    return parts


def _rule(start: Point, end: Point) -> str:
    return (
        f"<line x1='{start[0]:.1f}' y1='{start[1]:.1f}' x2='{end[0]:.1f}' y2='{end[1]:.1f}' "
        f"stroke='{INK}' stroke-opacity='0.25'/>"
    )


def _line(scale: _Scale, points: Sequence[Point], colour: str, dashes: str) -> str:
    path = " ".join(f"{x:.1f},{y:.1f}" for x, y in (scale.at(*point) for point in points))
    return (
        f"<polyline points='{path}' fill='none' stroke='{colour}' stroke-width='2.5' "
        f"stroke-dasharray='{dashes or 'none'}'/>"
    )


def _dot(scale: _Scale, one: RuleTally, colour: str) -> str:
    across, down = scale.at(one.wait, one.frosted)
    return f"<circle cx='{across:.1f}' cy='{down:.1f}' r='4' fill='{colour}'/>"


def _rules(scale: _Scale, tallies: Sequence[RuleTally]) -> list[str]:
    """Mark the other rules; a name that would leave the sheet stands to the left of its mark."""
    parts = []
    for one in tallies:
        across, down = scale.at(one.wait, one.frosted)
        parts.append(
            f"<rect x='{across - 5:.1f}' y='{down - 5:.1f}' width='10' height='10' fill='{INK}'/>"
        )
        late = across > WIDTH * 0.6
        at = (across - LABEL_SHIFT if late else across + LABEL_SHIFT, down - LABEL_SHIFT)
        parts.append(_text(at, rule_name(one.name), 13, "end" if late else "start"))
    return parts


def _key() -> list[str]:
    words = (
        (OURS, "our rule"),
        (PLAIN, "one step, newest forecast alone"),
        (LEAST, "bound"),
    )
    right, down = WIDTH - RIGHT, TOP + 16
    return [
        _text((right, down + 20 * place), f"— {text}", 14, "end", colour)
        for place, (colour, text) in enumerate(words)
    ]
