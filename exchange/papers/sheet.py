"""The sheet of paper: sizes, type, the head with the ground line, and making the PDF."""

from collections.abc import Sequence
from dataclasses import dataclass
from io import BytesIO
from typing import Any, TypeAlias

from reportlab.lib.colors import HexColor, black
from reportlab.lib.enums import TA_CENTER, TA_RIGHT
from reportlab.lib.pagesizes import A4, LETTER
from reportlab.lib.styles import ParagraphStyle
from reportlab.lib.units import mm
from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import (
    BaseDocTemplate,
    CondPageBreak,
    Flowable,
    Frame,
    PageTemplate,
    Paragraph,
    Table,
)

from exchange.papers import fonts
from exchange.papers.marks import CircleMark, FootLine, GroundLine, PaperCanvas
from exchange.papers.paper import PageSize
from exchange.papers.text import LONGEST_NAME, bold, clean, safe

MARGIN = 14 * mm
FOOT = 15 * mm
HAIR = HexColor("#B8B8B8")

ROOM_UNDER_HEADING = 5
"""A heading moves on with less room than this under it [lines]."""

Rule: TypeAlias = tuple[Any, ...]

_PAGES = {PageSize.A4: A4, PageSize.LETTER: LETTER}


@dataclass(frozen=True, slots=True)
class Type:
    """The styles of one paper, all from one size of text [pt]."""

    body: ParagraphStyle
    small: ParagraphStyle
    title: ParagraphStyle
    heading: ParagraphStyle
    lead: ParagraphStyle
    loud: ParagraphStyle
    centre: ParagraphStyle
    right: ParagraphStyle
    code: ParagraphStyle
    address: ParagraphStyle
    size: float


@dataclass(frozen=True, slots=True)
class About:
    """What the file says about itself."""

    title: str
    author: str
    lang: str
    page: PageSize


def type_of(size: float) -> Type:
    """Give the styles for a size of text [pt]."""
    fonts.register()
    body = ParagraphStyle("body", fontName=fonts.REGULAR, fontSize=size, leading=size * 1.3)
    return Type(
        body=body,
        small=_like(body, size * 0.86),
        title=_like(body, size * 2.0, fontName=fonts.BOLD, spaceBefore=4, spaceAfter=2),
        heading=_like(
            body,
            size * 1.22,
            fontName=fonts.BOLD,
            spaceBefore=size * 0.8,
            spaceAfter=2,
        ),
        loud=_like(body, size * 1.55, fontName=fonts.BOLD, alignment=TA_CENTER),
        lead=_like(body, size * 1.1),
        centre=_like(body, size, alignment=TA_CENTER),
        right=_like(body, size, alignment=TA_RIGHT),
        code=_like(body, 20, fontName=fonts.BOLD, alignment=TA_RIGHT),
        address=_like(body, size * 1.25),
        size=size,
    )


def _like(style: ParagraphStyle, size: float, **more: Any) -> ParagraphStyle:
    return ParagraphStyle("like", parent=style, fontSize=size, leading=size * 1.25, **more)


def page_size(page: PageSize) -> tuple[float, float]:
    """Give width and height of the sheet [pt]."""
    return _PAGES[page]


def width_of(page: PageSize) -> float:
    """Give the width between the margins [pt]."""
    return float(_PAGES[page][0] - 2 * MARGIN)


def paragraph(markup: str, style: ParagraphStyle) -> Paragraph:
    """Set markup whose every word from outside has passed `text.safe`."""
    return Paragraph(markup, style)


def heading(text: str, type_: Type) -> list[Flowable]:
    """Give a heading that is never the last thing on a page."""
    return [
        CondPageBreak(type_.size * ROOM_UNDER_HEADING),
        paragraph(safe(text, LONGEST_NAME), type_.heading),
    ]


def table(rows: Sequence[Sequence[object]], widths: Sequence[float], *style: Rule) -> Table:
    """Give a plain table without inner margins, in the embedded font."""
    return Table(
        [list(row) for row in rows],
        colWidths=list(widths),
        splitInRow=1,
        style=[
            ("FONTNAME", (0, 0), (-1, -1), fonts.REGULAR),
            ("LEFTPADDING", (0, 0), (-1, -1), 0),
            ("RIGHTPADDING", (0, 0), (-1, -1), 0),
            ("TOPPADDING", (0, 0), (-1, -1), 0),
            ("BOTTOMPADDING", (0, 0), (-1, -1), 0),
            ("VALIGN", (0, 0), (-1, -1), "TOP"),
            *style,
        ],
    )


def ruled_table(rows: Sequence[Sequence[object]], widths: Sequence[float], *style: Rule) -> Table:
    """Give a table with a heavy line under its head and a hair line under each row."""
    ruled = table(
        rows,
        widths,
        ("RIGHTPADDING", (0, 0), (-1, -1), 8),
        ("TOPPADDING", (0, 0), (-1, -1), 3),
        ("BOTTOMPADDING", (0, 0), (-1, -1), 4),
        ("LINEBELOW", (0, 0), (-1, 0), 1.5, black),
        ("LINEBELOW", (0, 1), (-1, -1), 0.6, HAIR),
        *style,
    )
    ruled.repeatRows = 1
    return ruled


def head(circle: str, kind: str, code: str, type_: Type, page: PageSize) -> list[Flowable]:
    """Give a paper's head: mark and circle, kind and code, the ground line."""
    half = width_of(page) / 2
    low = ("VALIGN", (0, 0), (-1, -1), "BOTTOM")
    name = paragraph(bold(circle, LONGEST_NAME), type_.body)
    left = table([[CircleMark(), name]], [26, half - 26], low)
    right = [
        paragraph(safe(kind, LONGEST_NAME), type_.right),
        paragraph(safe(code, LONGEST_NAME), type_.code),
    ]
    line = table([[left, right]], [half, half], low, ("BOTTOMPADDING", (1, 0), (1, 0), 5))
    return [
        FootLine(f"{clean(code, LONGEST_NAME)} · {clean(kind, LONGEST_NAME)}"),
        line,
        GroundLine(),
    ]


def make(story: list[Flowable], about: About) -> tuple[bytes, int]:
    """
    Make the PDF, byte for byte the same whenever the story is the same.

    Returns
    -------
    tuple of bytes and int
        The file, and how many pages it has.
    """
    fonts.register()
    target = BytesIO()
    width, height = _PAGES[about.page]
    document = BaseDocTemplate(
        target,
        pagesize=(width, height),
        title=clean(about.title, LONGEST_NAME * 2),
        author=clean(about.author, LONGEST_NAME),
        lang=about.lang,
        initialFontName=fonts.REGULAR,
        invariant=1,
        displayDocTitle=True,
    )
    frame = Frame(
        MARGIN, FOOT, width - 2 * MARGIN, height - MARGIN - FOOT,
        leftPadding=0, rightPadding=0, topPadding=0, bottomPadding=0,
    )  # fmt: skip
    document.addPageTemplates([PageTemplate(frames=[frame], onPageEnd=_foot)])
    document.build(story, canvasmaker=PaperCanvas)
    return target.getvalue(), document.page


def _foot(canvas: Canvas, document: BaseDocTemplate) -> None:
    text = canvas.foot_text if isinstance(canvas, PaperCanvas) else ""
    canvas.saveState()
    canvas.setFont(fonts.REGULAR, 9)
    canvas.drawString(MARGIN, 8 * mm, text)
    canvas.drawRightString(document.pagesize[0] - MARGIN, 8 * mm, f"page {canvas.getPageNumber()}")
    canvas.restoreState()
