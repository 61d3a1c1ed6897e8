"""Tables and pictures on a terminal: columns as wide as they need, long cells folded; squares as half blocks."""

from collections.abc import Sequence
from textwrap import wrap

from exchange.words.kernel.phrase import NBSP

WIDEST_CELL = 58
"""Cells longer than this are folded [characters]."""

WIDEST_NOTE = 100
"""Notes are folded at this width [characters]."""

INDENT = "    "


def table(heads: Sequence[str], rows: Sequence[Sequence[str]], notes: Sequence[str] = ()) -> str:
    """Give rows under heads, each column as wide as its widest cell up to the limit.

    Parameters
    ----------
    notes : a text for each row, set under it and indented
    """
    folded = [[_folded(cell) for cell in row] for row in rows]
    widths = [
        max([len(head), *(len(line) for row in folded for line in row[at])])
        for at, head in enumerate(heads)
    ]
    lines = [_line(heads, widths), _line(["-" * width for width in widths], widths)]
    for row, note in zip(folded, notes or [""] * len(folded), strict=True):
        for deep in range(max(len(cell) for cell in row)):
            cells = [cell[deep] if deep < len(cell) else "" for cell in row]
            lines.append(_line(cells, widths))
        lines += wrap(note, WIDEST_NOTE, initial_indent=INDENT, subsequent_indent=INDENT)
    return "\n".join(lines).replace(NBSP, " ")


def squares_as_text(rows: Sequence[Sequence[bool]]) -> str:
    """Give rows of squares as half blocks: a line of text holds two rows, and dark is the text's colour."""
    even = [*rows, [False] * len(rows[0])] if len(rows) % 2 else list(rows)
    pairs = zip(even[::2], even[1::2], strict=True)
    return "\n".join(
        "".join(_HALVES[upper, lower] for upper, lower in zip(*pair, strict=True)) for pair in pairs
    )


_HALVES = {
    (False, False): " ",
    (True, False): "\u2580",
    (False, True): "\u2584",
    (True, True): "\u2588",
}


def _folded(cell: str) -> list[str]:
    return wrap(cell, WIDEST_CELL) or [""]


def _line(cells: Sequence[str], widths: Sequence[int]) -> str:
    padded = (cell.ljust(width) for cell, width in zip(cells, widths, strict=True))
    return "  ".join(padded).rstrip()
