"""Words from members can hold anything; papers print it as words or not at all."""

import io
from dataclasses import replace

import pytest
from pypdf import PdfReader

from exchange.papers.fill import InBox, care_sheet_of, labels_of, slip_of
from exchange.papers.grids import GRIDS
from exchange.papers.labels import labels_pdf
from exchange.papers.paper import CareSheet, SheetNight, SheetStep
from exchange.papers.printing import bundle_pdf, care_sheet_pdf, slip_pdf
from exchange.papers.text import LONGEST_NAME, clean
from tests.builders.arrivals import a_line
from tests.builders.papers import a_place, parcel_facts

HOSTILE = {
    "bold": "<b>bold",
    "picture": '<img src="/etc/passwd" width="9"/>',
    "script": '<a href="javascript:alert(1)">x</a>',
    "break": "<br/>" * 4000,
    "zero": "a\x00b\x07c",
    "direction": "a\u202eb\u2066c\u200f",
    "picture signs": "Dahlia \U0001f469\u200d\U0001f33e\u2744\ufe0f end",
    "entity": "&lt;&#0;&bogus;",
    "long": "x" * 20_000,
    "long words": "many words " * 2_000,
    "another script": "ダリア 大丽花",
    "half a pair": "a\ud800b",
    "lines": "one\r\ntwo\n\nthree\u2028four",
    "nothing": "",
    "blank": " \t\u00a0",
}


def papers_with(text):
    facts = parcel_facts(
        contents=(InBox(a_line(), text),),
        circle=text,
        code=text,
        sender_first_name=text,
        receiver_first_name=text,
        address=(text,) * 12,
        return_address=(text,) * 12,
    )
    place = replace(a_place(), town=text)
    return slip_of(facts), care_sheet_of(facts, place), labels_of(facts)


@pytest.mark.parametrize("name", HOSTILE)
def test_whatever_is_written_is_printed_as_words(name):
    slip, sheet, labels = papers_with(HOSTILE[name])

    for body in (
        bundle_pdf([slip, sheet]),
        labels_pdf(labels, GRIDS["a4-65"], HOSTILE[name]),
    ):
        assert b"/XObject" not in body
        assert b"/URI" not in body
        assert b"/Annot" not in body
        assert b"/S /JavaScript" not in body
        pages = PdfReader(io.BytesIO(body)).pages
        text = "".join(page.extract_text() for page in pages)
        assert "\x00" not in text
        assert len(pages) <= 6


def test_markup_is_shown_as_it_was_typed():
    slip = papers_with("<b>bold")[0]

    text = "".join(page.extract_text() for page in PdfReader(io.BytesIO(slip_pdf(slip))).pages)

    assert "<b>bold" in text


@pytest.mark.parametrize(
    ("text", "printed"),
    [
        ("a\x00b\x07c", "abc"),
        ("a\u202eb\u2066c\u200f", "abc"),
        ("Dahlia \U0001f469\u200d\U0001f33e end", "Dahlia ? end"),
        ("ダリア", "?"),
        ("łőřÅé−‘’–·°½×→", "łőřÅé−‘’–·°½×→"),
        ("e\u0301", "é"),
        ("one\r\ntwo", "one two"),
        ("x" * 500, "x" * (LONGEST_NAME - 1) + "…"),
    ],
)
def test_words_are_cleaned_not_mangled(text, printed):
    assert clean(text, LONGEST_NAME) == printed


def test_a_sheet_of_anything_beyond_measure_is_cut_to_what_can_be_read():
    step = SheetStep("when " * 99, "title " * 99, "text " * 999, "whom " * 99)
    night = SheetNight(*("word " * 99,) * 4, cold=True)
    sheet = CareSheet(
        "c",
        "k",
        "t" * 999,
        "lead " * 999,
        (step,) * 500,
        "n",
        "n",
        (night,) * 500,
        ("c " * 999,) * 99,
    )

    body = care_sheet_pdf(sheet)

    assert len(PdfReader(io.BytesIO(body)).pages) < 25
