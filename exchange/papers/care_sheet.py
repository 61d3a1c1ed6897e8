"""The care sheet that travels in the box: what to do when, the coming nights, the usual cautions."""

from reportlab.platypus import Flowable, Spacer, Table

from exchange.papers.marks import TickBox
from exchange.papers.paper import CareSheet, PageSize, SheetNight, SheetStep
from exchange.papers.sheet import Type, head, heading, paragraph, ruled_table, type_of, width_of
from exchange.papers.text import LONGEST_NAME, bold, safe

MOST_STEPS = 40
MOST_NIGHTS = 14
MOST_CAUTIONS = 12


def care_story(sheet: CareSheet, page: PageSize, size: float) -> list[Flowable]:
    """Give the parts of a care sheet, set in the size of text [pt]."""
    type_ = type_of(size)
    return [
        *head(sheet.circle, "Care sheet", sheet.code, type_, page),
        paragraph(safe(sheet.title, LONGEST_NAME), type_.title),
        paragraph(safe(sheet.lead), type_.body),
        *heading("What to do", type_),
        _steps(sheet, type_, page),
        *_nights(sheet, type_, page),
        *_cautions(sheet, type_),
    ]


def _steps(sheet: CareSheet, type_: Type, page: PageSize) -> Table:
    rows: list[list[object]] = [_heads(("Done", "When", "What"), type_)]
    rows += [
        [
            TickBox(type_.size),
            paragraph(bold(step.when, LONGEST_NAME), type_.body),
            paragraph(_what(step), type_.body),
        ]
        for step in sheet.steps[:MOST_STEPS]
    ]
    width = width_of(page)
    when = type_.size * 10.4
    return ruled_table(
        rows,
        [38, when, width - 38 - when],
        ("TOPPADDING", (0, 0), (-1, -1), 2),
        ("BOTTOMPADDING", (0, 0), (-1, -1), 3),
        ("RIGHTPADDING", (2, 0), (2, -1), 0),
    )


def _what(step: SheetStep) -> str:
    title = bold(step.title, LONGEST_NAME)
    if step.whom:
        title = f"{safe(step.whom[:1].upper() + step.whom[1:], LONGEST_NAME)}: {title}"
    return f"{title} {safe(step.text)}".strip()


def _nights(sheet: CareSheet, type_: Type, page: PageSize) -> list[Flowable]:
    parts: list[Flowable] = [
        *heading(sheet.nights_title, type_),
        paragraph(safe(sheet.nights_note), type_.small),
    ]
    if not sheet.nights:
        return parts
    heads = ("Night of", "Low", "Frost", "Stand them")
    rows: list[list[object]] = [_heads(heads, type_)]
    rows += [_night(night, type_) for night in sheet.nights[:MOST_NIGHTS]]
    width = width_of(page)
    return [
        *parts,
        Spacer(0, 2),
        ruled_table(
            rows,
            [width * 0.27, width * 0.14, width * 0.23, width * 0.36],
            ("TOPPADDING", (0, 0), (-1, -1), 1.5),
            ("BOTTOMPADDING", (0, 0), (-1, -1), 2.5),
        ),
    ]


def _night(night: SheetNight, type_: Type) -> list[object]:
    words = (night.night, night.low, night.frost, night.stand)
    make = bold if night.cold else safe
    return [
        paragraph(bold(words[0], LONGEST_NAME), type_.body),
        *(paragraph(make(word, LONGEST_NAME), type_.body) for word in words[1:]),
    ]


def _cautions(sheet: CareSheet, type_: Type) -> list[Flowable]:
    if not sheet.cautions:
        return []
    sentences = " ".join(safe(caution) for caution in sheet.cautions[:MOST_CAUTIONS])
    return [
        *heading("Take care", type_),
        paragraph(sentences, type_.small),
    ]


def _heads(words: tuple[str, ...], type_: Type) -> list[object]:
    return [paragraph(f"<b>{word}</b>", type_.small) for word in words]
