"""The page of a replay: plants lost against days of waiting, a chart and its tables for each material."""

import math
from collections.abc import Iterable, Sequence
from xml.sax.saxutils import escape

from exchange.domain.posting.replay.run import Replay, RuleReplay, RuleTally
from exchange.words.weather import replay as words

WIDTH, HEIGHT = 680, 480
LEFT, RIGHT, TOP, BOTTOM = 52, 16, 104, 52
KEY_LINE = 22
MOST_TIMES = 2.4
"""How many times our wait, and the plants lost at it, the chart goes to."""
OURS_LINE = ("#2C6E49", "none")
THUMB_LINES = (("#7A3E12", "8 5"), ("#55308D", "2 4"), ("#1D4E89", "12 4 2 4"))
STYLE = """
body { font: 1rem/1.5 'Fira Sans', system-ui, sans-serif; color: #221A27; background: #FBFCF9; max-width: 60rem;
  margin: 0 auto; padding: 1rem }
svg { width: 100%; min-width: 34rem; height: auto; font-size: 15px }
figure { margin: 1rem 0 } .wide { overflow-x: auto }
table { border-collapse: collapse } th, td { padding: 0.2rem 0.6rem; text-align: right } th { vertical-align: bottom }
th:first-child, td:first-child { text-align: left } tr + tr { border-top: 1px solid #221A2733 }
"""

Point = tuple[float, float]


def replay_html(found: Replay) -> str:
    """Write the page as HTML."""
    parts = "\n".join(_section(number, one) for number, one in enumerate(found.found, 1))
    notes = " ".join(words.notes())
    return (
        "<!DOCTYPE html>\n<html lang='en-GB'>\n<head>\n<meta charset='utf-8'/>\n"
        "<meta name='viewport' content='width=device-width, initial-scale=1'/>\n"
        f"<title>The posting rule on past springs</title>\n<style>{STYLE}</style>\n</head>\n<body>\n<main>\n"
        f"<h1>The posting rule on past springs</h1>\n<p>{escape(words.heading(found))}</p>\n"
        f"{parts}\n<p>{escape(notes)}</p>\n</main>\n</body>\n</html>\n"
    )


def _section(number: int, one: RuleReplay) -> str:
    return (
        f"<section>\n<h2>{escape(words.title(one))}</h2>\n<figure>\n"
        "<div class='wide' tabindex='0' role='region' aria-label='The chart'>\n"
        f"{replay_svg(one, f'replay-{number}')}\n</div>\n"
        f"<figcaption>{escape(words.share(one))}</figcaption>\n</figure>\n"
        f"{_table(words.rules_rows(one), 'The rules')}\n<details>\n<summary>The curves as a table</summary>\n"
        f"{_table(words.curve_rows(one), 'The curves')}\n</details>\n</section>"
    )


def _table(rows: Iterable[Sequence[str]], caption: str) -> str:
    heads = "".join(f"<th scope='col'>{escape(head)}</th>" for head in words.HEADS)
    lines = (
        f"<tr><th scope='row'>{escape(name)}</th>"
        + "".join(f"<td>{escape(cell)}</td>" for cell in cells)
        + "</tr>"
        for name, *cells in rows
    )
    return (
        f"<div class='wide' tabindex='0' role='region' aria-label='{escape(caption)}'>\n<table>\n<caption>{escape(caption)}"
        f"</caption>\n<thead><tr>{heads}</tr></thead>\n<tbody>\n"
        + "\n".join(lines)
        + "\n</tbody>\n</table>\n</div>"
    )


class _Scale:
    """Where a wait and a number of plants stand in the drawing; both axes begin at 0."""

    def __init__(self, longest: float, most: float) -> None:
        self.longest, self.most = longest, most

    def at(self, wait: float, lost: float) -> Point:
        across = LEFT + (WIDTH - LEFT - RIGHT) * wait / self.longest
        return across, HEIGHT - BOTTOM - (HEIGHT - TOP - BOTTOM) * lost / self.most


def replay_svg(one: RuleReplay, key: str) -> str:
    """Draw the curves of one material as SVG text.

    Parameters
    ----------
    key : begins the ids of its parts, and is unlike those of other charts on the page
    """
    beside = max(tally.lost for tally in one.beside.values())
    longest = MOST_TIMES * one.practised.wait
    scale = _Scale(longest, MOST_TIMES * max(beside, one.practised.lost))
    lines = [
        (words.thumb_name(rule), tallies, *look)
        for (rule, tallies), look in zip(one.thumbs.items(), THUMB_LINES, strict=True)
    ]
    lines.append((words.OURS, one.ours, *OURS_LINE))
    return "\n".join(
        (
            (
                f"<svg xmlns='http://www.w3.org/2000/svg' viewBox='0 0 {WIDTH} {HEIGHT}' role='img' "
                f"aria-labelledby='{key}-title {key}-desc'>"
            ),
            f"<title id='{key}-title'>{escape(words.title(one))}</title>",
            f"<desc id='{key}-desc'>{escape(words.description(one))}</desc>",
            (
                f"<clipPath id='{key}-clip'><rect x='{LEFT}' y='{TOP}' width='{WIDTH - LEFT - RIGHT}' "
                f"height='{HEIGHT - TOP - BOTTOM}'/></clipPath>"
            ),
            *_axes(scale),
            f"<g clip-path='url(#{key}-clip)'>",
            *(_line(scale, tallies, colour, dashes) for _, tallies, colour, dashes in lines),
            "</g>",
            *_working_point(scale, one.practised),
            *_key([(name, colour, dashes) for name, _, colour, dashes in lines]),
            "</svg>",
        )
    )


def _axes(scale: _Scale) -> Iterable[str]:
    step = 10 ** math.floor(math.log10(scale.most / 2))
    for number in range(math.floor(scale.most / step) + 1):
        across, down = scale.at(0, number * step)
        yield (
            f"<line x1='{across:.1f}' x2='{WIDTH - RIGHT}' y1='{down:.1f}' y2='{down:.1f}' stroke='#221A27' "
            "stroke-opacity='0.2'/>"
        )
        yield _text((across - 6, down + 5), f"{number * step:g}", "end")
    for wait in range(math.floor(scale.longest) + 1):
        yield _text((scale.at(wait, 0)[0], HEIGHT - BOTTOM + 20), str(wait), "middle")
    yield _text((WIDTH - RIGHT, HEIGHT - 8), "mean wait, days", "end")
    yield _text((LEFT, HEIGHT - 8), "up: plants lost in 100")


def _line(scale: _Scale, tallies: Sequence[RuleTally], colour: str, dashes: str) -> str:
    places = (scale.at(one.wait, one.lost) for one in tallies)
    path = " ".join(f"{across:.1f},{down:.1f}" for across, down in places)
    return (
        f"<polyline points='{path}' fill='none' stroke='{colour}' stroke-width='2.5' "
        f"stroke-dasharray='{dashes}'/>"
    )


def _working_point(scale: _Scale, practised: RuleTally) -> Iterable[str]:
    across, down = scale.at(practised.wait, practised.lost)
    yield (
        f"<circle cx='{across:.1f}' cy='{down:.1f}' r='7' fill='{OURS_LINE[0]}' stroke='#FBFCF9' "
        "stroke-width='2'/>"
    )
    yield _text((across, down + 26), "as practised", "middle", OURS_LINE[0])


def _key(lines: Sequence[tuple[str, str, str]]) -> Iterable[str]:
    for place, (name, colour, dashes) in enumerate(reversed(lines)):
        down = KEY_LINE // 2 + KEY_LINE * place
        yield (
            f"<line x1='{LEFT}' x2='{LEFT + 46}' y1='{down}' y2='{down}' stroke='{colour}' "
            f"stroke-width='2.5' stroke-dasharray='{dashes}'/>"
        )
        yield _text((LEFT + 54, down + 5), name, colour=colour)


def _text(at: Point, said: str, anchor: str = "start", colour: str = "#221A27") -> str:
    return (
        f"<text x='{at[0]:.1f}' y='{at[1]:.1f}' text-anchor='{anchor}' fill='{colour}'>"
        f"{escape(said)}</text>"
    )
