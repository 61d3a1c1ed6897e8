"""The packing slip: what goes in, what to see to, the weather rule, and the part for the outside."""

from itertools import zip_longest

from reportlab.lib.colors import black
from reportlab.platypus import Flowable, Spacer, Table

from exchange.papers.marks import AtFoot, CutLine, TickBox, UpArrow
from exchange.papers.paper import PackingList, PageSize, Slip, SlipLine
from exchange.papers.sheet import (
    Type,
    head,
    heading,
    paragraph,
    ruled_table,
    table,
    type_of,
    width_of,
)
from exchange.papers.text import LONGEST_MARK, LONGEST_NAME, bold, safe

MOST_LINES = 60
MOST_LISTS = 6
MOST_POINTS = 8
MOST_ADDRESS_LINES = 7
TICK_PT = 22.0
"""Room for a box to tick and the space after it [pt]."""

ARROW_PT = 48.0
"""Room for an arrow beside the words on the outside [pt]."""


def slip_story(slip: Slip, page: PageSize, size: float) -> list[Flowable]:
    """Give the parts of a slip, in order from the head to the cut-off part."""
    type_ = type_of(size)
    return [
        *head(slip.circle, "Packing slip", slip.code, type_, page),
        paragraph(safe(slip.title, LONGEST_NAME), type_.title),
        paragraph(bold(slip.when), type_.lead),
        *heading("In the box", type_),
        _contents(slip, type_, page),
        *heading("Before you close it", type_),
        _packing(slip.packing[:MOST_LISTS], type_, page),
        *_weather(slip, type_),
        AtFoot(_outside(slip, type_, page)),
    ]


def _contents(slip: Slip, type_: Type, page: PageSize) -> Table:
    heads = ("Packed", "How many", "Variety", "Sent as", "Label")
    rows: list[list[object]] = [[paragraph(f"<b>{text}</b>", type_.small) for text in heads]]
    rows += [_row(line, type_) for line in slip.lines[:MOST_LINES]]
    left_out = len(slip.lines) - MOST_LINES
    if left_out > 0:
        more = f"and {left_out} more kinds: see the parcel’s page"
        rows.append(["", "", paragraph(more, type_.body), "", ""])
    width = width_of(page)
    widths = [52.0, 66.0, 0.0, type_.size * 15.2, 56.0]
    widths[2] = width - sum(widths)
    return ruled_table(rows, widths)


def _row(line: SlipLine, type_: Type) -> list[object]:
    return [
        TickBox(type_.size),
        paragraph(f"<b>{int(line.count)}</b>", type_.body),
        paragraph(bold(line.variety, LONGEST_NAME), type_.body),
        paragraph(safe(line.sent_as, LONGEST_NAME), type_.body),
        paragraph(safe(line.label, LONGEST_MARK), type_.body),
    ]


def _packing(lists: tuple[PackingList, ...], type_: Type, page: PageSize) -> Table:
    """Set the lists in one column, or in two when there are several."""
    columns = 1 if len(lists) <= 2 else 2
    width = width_of(page) / columns
    cells = [_ticks(packing, type_, width - 10) for packing in lists]
    rows = zip_longest(*(cells[column::columns] for column in range(columns)), fillvalue="")
    return table(
        [list(row) for row in rows] or [[""]],
        [width] * columns,
        ("BOTTOMPADDING", (0, 0), (-1, -1), 5),
    )


def _ticks(packing: PackingList, type_: Type, width: float) -> list[Flowable]:
    rows = [[TickBox(type_.size), paragraph(safe(point), type_.body)] for point in packing.points]
    title = [paragraph(bold(packing.heading, LONGEST_NAME), type_.body)] if packing.heading else []
    if not rows:
        return [*title, Spacer(0, 1)]
    gaps = (("TOPPADDING", (0, 0), (-1, -1), 1.5), ("BOTTOMPADDING", (0, 0), (-1, -1), 2))
    return [*title, table(rows[:MOST_POINTS], [TICK_PT, width - TICK_PT], *gaps)]


def _weather(slip: Slip, type_: Type) -> list[Flowable]:
    if not slip.weather:
        return []
    rule, *rest = slip.weather
    parts = [*heading("Last look at the weather", type_), paragraph(bold(rule), type_.body)]
    if rest:
        parts.append(paragraph(" ".join(safe(sentence) for sentence in rest), type_.body))
    return parts


def _outside(slip: Slip, type_: Type, page: PageSize) -> list[Flowable]:
    cut = "Cut here and fix to the outside" if slip.address else "Cut here and tie to the box"
    width = width_of(page)
    ends = table(
        [[_to(slip, type_), paragraph(safe(slip.code, LONGEST_NAME), type_.code)]],
        [width * 0.6, width * 0.4],
    )
    return [
        Spacer(0, 8),
        CutLine(),
        paragraph(cut, type_.small),
        Spacer(0, 5),
        _live_plants(type_, page),
        Spacer(0, 7),
        ends,
        *_back(slip, type_),
    ]


def _live_plants(type_: Type, page: PageSize) -> Table:
    words = [
        paragraph("LIVE PLANTS · OPEN AT ONCE", type_.loud),
        paragraph("THIS WAY UP · KEEP FROM FROST AND SUN", type_.centre),
    ]
    return table(
        [[UpArrow(), words, UpArrow()]],
        [ARROW_PT, width_of(page) - 2 * ARROW_PT, ARROW_PT],
        ("BOX", (0, 0), (-1, -1), 2.5, black),
        ("VALIGN", (0, 0), (-1, -1), "MIDDLE"),
        ("ALIGN", (0, 0), (-1, -1), "CENTER"),
        ("TOPPADDING", (0, 0), (-1, -1), 4),
        ("BOTTOMPADDING", (0, 0), (-1, -1), 7),
    )


def _to(slip: Slip, type_: Type) -> list[Flowable]:
    if not slip.address:
        return [paragraph(safe(slip.title, LONGEST_NAME), type_.address)]
    lines = [safe(line, LONGEST_NAME) for line in slip.address[:MOST_ADDRESS_LINES]]
    return [
        paragraph("<b>To</b>", type_.small),
        *(paragraph(line, type_.address) for line in lines),
    ]


def _back(slip: Slip, type_: Type) -> list[Flowable]:
    if not (slip.address and slip.return_address):
        return []
    sender = ", ".join(
        safe(line, LONGEST_NAME) for line in slip.return_address[:MOST_ADDRESS_LINES]
    )
    return [
        Spacer(0, 5),
        paragraph(f"If not delivered, back to: {sender}", type_.small),
    ]
