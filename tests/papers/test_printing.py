"""The PDF files, read back by tools that know nothing of this program: qpdf, poppler and pypdf."""

import io
import subprocess
from dataclasses import replace

import pytest
from pypdf import PdfReader

from exchange.papers.fill import care_sheet_of, labels_of, slip_of
from exchange.papers.grids import GRIDS
from exchange.papers.labels import labels_pdf
from exchange.papers.paper import PageSize
from exchange.papers.printing import (
    bundle_pdf,
    care_sheet_pdf,
    slip_pdf,
)
from tests.builders.papers import a_place, mixed_contents, parcel_facts
from tests.programs import program

PAGE_PT = {PageSize.A4: (595, 842), PageSize.LETTER: (612, 792)}
"""A4 by ISO 216 (210 x 297 mm), Letter by ANSI/ASME Y14.1 (8.5 x 11 in), in points of 1/72 in."""


def files(page=PageSize.A4, **more):
    facts = parcel_facts(**more)
    return {
        "slip": slip_pdf(slip_of(facts), page),
        "care": care_sheet_pdf(care_sheet_of(facts, a_place()), page),
        "bundle": bundle_pdf([slip_of(facts), care_sheet_of(facts, a_place())], page),
        "labels": labels_pdf(labels_of(facts), GRIDS["a4-21"], "The Wending Circle"),
    }


def read_by(name, path, *options):
    command = [program(name), *options, str(path)]
    return subprocess.run(command, capture_output=True, text=True, timeout=30, check=False)


def words_of(body):
    return " ".join(
        " ".join(page.extract_text() for page in PdfReader(io.BytesIO(body)).pages).split()
    )


@pytest.mark.parametrize("page", PageSize)
@pytest.mark.parametrize("kind", ["slip", "care", "bundle"])
def test_every_page_is_of_the_size_asked_for(page, kind):
    pages = PdfReader(io.BytesIO(files(page)[kind])).pages

    for one in pages:
        assert (round(one.mediabox.width), round(one.mediabox.height)) == PAGE_PT[page]
    assert len(pages) == (2 if kind == "bundle" else 1)


@pytest.mark.parametrize("kind", ["slip", "care", "bundle", "labels"])
def test_qpdf_finds_nothing_wrong(kind, tmp_path):
    path = tmp_path / "paper.pdf"
    path.write_bytes(files(contents=mixed_contents())[kind])

    checked = read_by("qpdf", path, "--check")

    assert checked.returncode == 0, checked.stdout + checked.stderr


@pytest.mark.parametrize("kind", ["slip", "care", "bundle", "labels"])
def test_every_font_is_embedded(kind, tmp_path):
    path = tmp_path / "paper.pdf"
    path.write_bytes(files()[kind])

    rows = read_by("pdffonts", path).stdout.splitlines()[2:]

    assert rows
    for row in rows:
        assert "FiraSans" in row
        embedded, subset, unicode_map = row.split()[-5:-2]
        assert (embedded, subset, unicode_map) == ("yes", "yes", "yes")


def test_the_code_can_be_read_out_of_the_file(tmp_path):
    for kind, body in files().items():
        path = tmp_path / f"{kind}.pdf"
        path.write_bytes(body)

        read_by("pdftotext", path)

        text = path.with_suffix(".txt").read_text()
        assert ("CL 27" if kind == "labels" else "Bramble 27") in text


def test_the_file_says_what_it_is():
    read = PdfReader(io.BytesIO(files()["slip"]))

    assert read.metadata.title == "Bramble 27 – Packing slip"
    assert read.metadata.author == "The Wending Circle"
    assert read.trailer["/Root"]["/Lang"] == "en-GB"


def test_the_slip_says_what_goes_how_many_and_when_to_wait():
    text = words_of(files()["slip"]).replace("\u00a0", " ")

    for said in (
        "For Colin, from Maud",
        "Post on Tue 27 April by 4 pm",
        "Dahlia ‘Chapel Lantern’",
        "rooted cuttings, raised in heat",
        "LIVE PLANTS · OPEN AT ONCE",
        "If 1.5 °C or less is forecast at either end, wait.",
        "3 Gill Row",
    ):
        assert said in text


def test_the_return_address_stands_outside_only_by_leave():
    leave = ("M. Pellow", "Lane End")

    assert "Lane End" not in words_of(files()["slip"])
    assert "back to: M. Pellow, Lane End" in words_of(files(return_address=leave)["slip"])


def test_by_hand_no_address_is_printed():
    text = words_of(files(by_hand=True, return_address=("Lane End",))["slip"])

    assert "Gill Row" not in text
    assert "Lane End" not in text
    assert "Hand over on" in text


def test_the_care_sheet_names_the_nights_and_where_they_come_from():
    text = words_of(files()["care"]).replace("\u00a0", " ")

    assert "The nights at Arrow Foot" in text
    assert "Sun 2 May 1.5 °C" in text
    assert "By the forecast issued Mon 26 April at 6 pm." in text
    assert "Animal and Plant Health Agency" in text


def test_a_paper_that_cannot_fit_goes_on_to_further_pages():
    many = tuple(
        replace(one, line=replace(one.line, variety_id=100 * turn + one.line.variety_id))
        for turn in range(20)
        for one in mixed_contents()
    )

    slip = slip_pdf(slip_of(parcel_facts(contents=many)))

    read = PdfReader(io.BytesIO(slip))
    assert len(read.pages) > 1
    assert "page 2" in words_of(slip)
    assert "and 20 more kinds" in words_of(slip)


def test_an_empty_bundle_is_refused():
    with pytest.raises(ValueError, match="nothing to print"):
        bundle_pdf([])


def test_the_care_sheet_of_a_parcel_without_a_day_says_what_its_days_stand_for():
    going = parcel_facts().going
    dated, undated = (
        care_sheet_of(parcel_facts(going=one), a_place()).lead
        for one in (going, replace(going, posting_day=None))
    )

    assert "No posting day yet: the days below are reckoned as if it came on" in undated
    assert "No posting day yet" not in dated
