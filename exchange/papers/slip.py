"""The packing slip: what goes in, what to see to, the weather rule, and the part for the outside."""

from reportlab.lib.colors import black
from reportlab.lib.enums import TA_CENTER
from reportlab.lib.styles import ParagraphStyle
from reportlab.platypus import Flowable, Spacer, Table

from exchange.papers.marks import AtFoot, CutLine, TickBox, UpArrow
from exchange.papers.paper import PageSize, Slip, SlipLine
from exchange.papers.sheet import Type, head, paragraph, ruled_table, type_of, width_of
from exchange.papers.text import LONGEST_NAME, bold, safe
from exchange.words.phrase import _

SIZE_PT = 12.5
MOST_LINES = 60
MOST_POINTS = 24
MOST_ADDRESS_LINES = 7


def slip_story(slip: Slip, page: PageSize, size: float = SIZE_PT) -> list[Flowable]:
    """Give the parts of a slip, in order from the head to the cut-off part."""
    type_ = type_of(size)
    return [
        *head(slip.circle, _("Packing slip"), slip.code, type_, page),
        paragraph(safe(slip.title, LONGEST_NAME), type_.title),
        paragraph(safe(slip.when), type_.body),
        Spacer(0, size * 0.6),
        _live_plants(type_, page),
        paragraph(_("In the box"), type_.heading),
        _contents(slip, type_, page),
        *_packing(slip, type_, page),
        *_weather(slip, type_),
        AtFoot(_outside(slip, type_, page)),
    ]


def _live_plants(type_: Type, page: PageSize) -> Flowable:
    words = [
        paragraph(_("LIVE PLANTS · OPEN AT ONCE"), type_.loud),
        paragraph(_("THIS WAY UP · KEEP FROM FROST AND SUN"), _centred(type_)),
    ]
    side = 48.0
    return Table(
        [[UpArrow(), words, UpArrow()]],
        colWidths=[side, width_of(page) - 2 * side, side],
        style=[
            ("BOX", (0, 0), (-1, -1), 2.5, black),
            ("VALIGN", (0, 0), (-1, -1), "MIDDLE"),
            ("ALIGN", (0, 0), (-1, -1), "CENTER"),
            ("TOPPADDING", (0, 0), (-1, -1), 5),
            ("BOTTOMPADDING", (0, 0), (-1, -1), 8),
        ],
    )


def _centred(type_: Type) -> ParagraphStyle:
    return ParagraphStyle("centred", parent=type_.body, alignment=TA_CENTER)


def _contents(slip: Slip, type_: Type, page: PageSize) -> Table:
    heads = (_("Packed"), _("How many"), _("Variety"), _("Sent as"), _("Label"))
    rows: list[list[object]] = [[paragraph(f"<b>{text}</b>", type_.small) for text in heads]]
    rows += [_row(line, type_) for line in slip.lines[:MOST_LINES]]
    left_out = len(slip.lines) - MOST_LINES
    if left_out > 0:
        more = _("and {n} more kinds: see the parcel’s page").format(n=left_out)
        rows.append(["", "", paragraph(more, type_.body), "", ""])
    width = width_of(page)
    widths = [52.0, 66.0, 0.0, width * 0.27, 58.0]
    widths[2] = width - sum(widths)
    return ruled_table(rows, widths)


def _row(line: SlipLine, type_: Type) -> list[object]:
    return [
        TickBox(type_.size),
        paragraph(f"<b>{int(line.count)}</b>", type_.body),
        paragraph(bold(line.variety, LONGEST_NAME), type_.body),
        paragraph(safe(line.sent_as, LONGEST_NAME), type_.body),
        paragraph(safe(line.label, 12), type_.body),
    ]


def _packing(slip: Slip, type_: Type, page: PageSize) -> list[Flowable]:
    parts: list[Flowable] = [paragraph(_("Before you close it"), type_.heading)]
    points_left = MOST_POINTS
    for packing in slip.packing:
        if packing.heading:
            parts.append(paragraph(bold(packing.heading, LONGEST_NAME), type_.body))
        rows: list[list[object]] = [
            [TickBox(type_.size), paragraph(safe(point), type_.body)]
            for point in packing.points[:points_left]
        ]
        points_left -= len(rows)
        if rows:
            parts.append(_ticks(rows, page))
    return parts


def _ticks(rows: list[list[object]], page: PageSize) -> Table:
    return Table(
        rows,
        colWidths=[22, width_of(page) - 22],
        style=[
            ("LEFTPADDING", (0, 0), (-1, -1), 0),
            ("RIGHTPADDING", (0, 0), (-1, -1), 0),
            ("TOPPADDING", (0, 0), (-1, -1), 1.5),
            ("BOTTOMPADDING", (0, 0), (-1, -1), 2),
            ("VALIGN", (0, 0), (-1, -1), "TOP"),
        ],
    )


def _weather(slip: Slip, type_: Type) -> list[Flowable]:
    if not slip.weather:
        return []
    rule, *rest = slip.weather
    parts: list[Flowable] = [
        paragraph(_("Last look at the weather"), type_.heading),
        paragraph(bold(rule), type_.body),
    ]
    if rest:
        parts.append(paragraph(" ".join(safe(sentence) for sentence in rest), type_.body))
    return parts


def _outside(slip: Slip, type_: Type, page: PageSize) -> list[Flowable]:
    code = [
        paragraph(safe(slip.code, LONGEST_NAME), type_.code),
        paragraph(_("<b>LIVE PLANTS</b>"), type_.right),
        paragraph(_("open at once · this way up"), type_.right),
        paragraph(_("keep from frost and sun"), type_.right),
    ]
    width = width_of(page)
    panel = Table(
        [[_to(slip, type_), code]],
        colWidths=[width * 0.55, width * 0.45],
        style=[
            ("LEFTPADDING", (0, 0), (-1, -1), 0),
            ("RIGHTPADDING", (0, 0), (-1, -1), 0),
            ("VALIGN", (0, 0), (-1, -1), "TOP"),
        ],
    )
    cut = _("Cut here and fix to the outside") if slip.address else _("Cut here and tie to the box")
    return [
        Spacer(0, 8),
        CutLine(),
        paragraph(cut, type_.small),
        Spacer(0, 4),
        panel,
        *_back(slip, type_),
    ]


def _to(slip: Slip, type_: Type) -> list[Flowable]:
    if not slip.address:
        return [paragraph(safe(slip.title, LONGEST_NAME), type_.address)]
    lines = [safe(line, LONGEST_NAME) for line in slip.address[:MOST_ADDRESS_LINES]]
    return [
        paragraph(_("<b>To</b>"), type_.small),
        *(paragraph(line, type_.address) for line in lines),
    ]


def _back(slip: Slip, type_: Type) -> list[Flowable]:
    if not (slip.address and slip.return_address):
        return []
    sender = ", ".join(
        safe(line, LONGEST_NAME) for line in slip.return_address[:MOST_ADDRESS_LINES]
    )
    return [
        Spacer(0, 6),
        paragraph(_("If not delivered, back to: {sender}").format(sender=sender), type_.small),
    ]
