"""Papers as PDF files: one, or a bundle for a member without mail."""

from collections.abc import Sequence

from reportlab.platypus import Flowable, PageBreak

from exchange.papers import care_sheet, slip
from exchange.papers.paper import CareSheet, PageSize, Slip
from exchange.papers.sheet import About, make

SIZES_PT = (12.5, 11.75, 11.0, 10.5)
"""Sizes of text tried so that a paper fits on one page; never smaller, by judgement [pt]."""


def slip_pdf(paper: Slip, page: PageSize = PageSize.A4) -> bytes:
    """Give a packing slip as PDF, on one page where it can be."""
    return bundle_pdf((paper,), page)


def care_sheet_pdf(paper: CareSheet, page: PageSize = PageSize.A4) -> bytes:
    """Give a care sheet as PDF, on one page where it can be."""
    return bundle_pdf((paper,), page)


def bundle_pdf(papers: Sequence[Slip | CareSheet], page: PageSize = PageSize.A4) -> bytes:
    """
    Give several papers in one PDF, each beginning on its own page.

    Raises
    ------
    ValueError
        When there is no paper.
    """
    if not papers:
        raise ValueError("There is nothing to print yet.")
    first = papers[0]
    if len(papers) == 1:
        return _fitted(first, page)[1]
    story: list[Flowable] = []
    for paper in papers:
        size = _fitted(paper, page)[0]
        story += [PageBreak(), *_story(paper, page, size)] if story else _story(paper, page, size)
    about = About(f"Papers of {first.circle}", first.circle, first.lang, page)
    return make(story, about)[0]


def _fitted(paper: Slip | CareSheet, page: PageSize) -> tuple[float, bytes]:
    """Give the largest size of text with which the paper fits one page, and the file."""
    about = About(f"{paper.code} – {_kind(paper)}", paper.circle, paper.lang, page)
    tried: list[tuple[float, bytes]] = []
    for size in SIZES_PT:
        body, pages = make(_story(paper, page, size), about)
        tried.append((size, body))
        if pages == 1:
            return tried[-1]
    return tried[0]


def _story(paper: Slip | CareSheet, page: PageSize, size: float) -> list[Flowable]:
    if isinstance(paper, Slip):
        return slip.slip_story(paper, page, size)
    return care_sheet.care_story(paper, page, size)


def _kind(paper: Slip | CareSheet) -> str:
    return "Packing slip" if isinstance(paper, Slip) else "Care sheet"
