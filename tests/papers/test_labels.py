import io

import pytest
from pypdf import PdfReader

from exchange.papers.fill import labels_of
from exchange.papers.grids import GRIDS
from exchange.papers.labels import MOST_LABELS, Start, TooManyLabelsError, labels_pdf
from exchange.papers.paper import PageSize, PotLabel
from tests.builders.papers import parcel_facts

SHEET_MM = {PageSize.A4: (210.0, 297.0), PageSize.LETTER: (215.9, 279.4)}
"""A4 by ISO 216; Letter is 8.5 x 11 in of 25.4 mm."""


def a_label(n=1):
    return PotLabel("Dahlia ‘Tin Kettle’", f"TK {n}", "from Maud, April 2027")


def pages_of(labels, grid="a4-21", **start):
    body = labels_pdf(labels, GRIDS[grid], "The Wending Circle", Start(**start))
    return [page.extract_text() for page in PdfReader(io.BytesIO(body)).pages]


@pytest.mark.parametrize("key", GRIDS)
def test_every_grid_lies_on_its_sheet_without_overlap(key):
    grid = GRIDS[key]
    width, height = SHEET_MM[grid.page]

    assert key == f"{grid.page}-{grid.labels}"
    assert grid.across >= grid.width
    assert grid.down >= grid.height
    assert grid.left + (grid.columns - 1) * grid.across + grid.width <= width
    assert grid.top + (grid.rows - 1) * grid.down + grid.height <= height


@pytest.mark.parametrize("key", GRIDS)
def test_every_grid_is_centred_as_its_makers_cut_it(key):
    grid = GRIDS[key]
    width, height = SHEET_MM[grid.page]
    right = width - grid.left - (grid.columns - 1) * grid.across - grid.width
    below = height - grid.top - (grid.rows - 1) * grid.down - grid.height

    assert right == pytest.approx(grid.left, abs=1.0)
    assert below == pytest.approx(grid.top, abs=1.5)


def test_a_parcel_gets_a_label_for_every_plant():
    labels = labels_of(parcel_facts())

    assert [label.label for label in labels] == ["CL 27"] * 3 + ["TK 27"] * 2


def test_a_partly_used_sheet_is_begun_where_it_is_free():
    pages = pages_of([a_label(n) for n in range(1, 21)], used=20)

    assert len(pages) == 2
    assert pages[0].count("TK") == 1
    assert pages[1].count("TK") == 19


def test_a_full_sheet_begins_no_second_one():
    assert len(pages_of([a_label()] * 21)) == 1


def test_more_labels_than_a_file_may_hold_are_refused():
    with pytest.raises(TooManyLabelsError, match=str(MOST_LABELS)):
        pages_of([a_label()] * (MOST_LABELS + 1))


def test_the_printer_can_be_corrected():
    plain = labels_pdf([a_label()], GRIDS["a4-21"], "c")
    moved = labels_pdf([a_label()], GRIDS["a4-21"], "c", Start(right_mm=1.0))

    assert plain != moved
