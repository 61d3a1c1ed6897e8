"""Twenty care sheets, read whole by a grower; what they rest on stands beside each in care_sheets.txt."""

import re

import pytest

from exchange.domain.arriving.step import StepKind
from exchange.domain.growing.batch import RESTING, Material
from tests.reference.care_sheets import READ, TWENTY, sheet_of, text_of, written

IDS = [one.name for one in TWENTY]


def test_the_sheets_are_as_they_were_read():
    assert READ.read_text(encoding="utf-8") == written()


def test_the_twenty_differ_in_material_raising_shelter_and_month():
    assert len(TWENTY) == 20
    assert {one.material for one in TWENTY} == set(Material) - {Material.RHIZOME}
    assert len({one.raised for one in TWENTY}) == 3
    assert len({one.shelters for one in TWENTY}) >= 6
    assert len({one.day.month for one in TWENTY}) >= 7


@pytest.mark.parametrize("comes", TWENTY, ids=IDS)
def test_what_has_no_source_is_said_to_have_none(comes):
    assert re.search(r"common practice, no source|from memory", comes.practice)


@pytest.mark.parametrize("comes", [one for one in TWENTY if one.material in RESTING], ids=str)
def test_sheets_of_tubers_and_stools_speak_of_firmness_and_not_of_leaves_they_have_not(comes):
    opened = sheet_of(comes).steps[0].text

    assert "firm" in opened
    assert "leaf" not in opened


@pytest.mark.parametrize("comes", TWENTY, ids=IDS)
def test_no_two_steps_stand_with_one_date_where_one_would_do(comes):
    titles = [step.title for step in sheet_of(comes).steps]

    assert len(titles) == len(set(titles))
    assert not {"Keep cool, dry and free of frost.", "Plant out."} <= set(titles) or (
        "Pot and start into growth." in titles
    )


@pytest.mark.parametrize("comes", TWENTY, ids=IDS)
def test_the_steps_stand_in_the_order_of_doing(comes):
    titles = " | ".join(step.title for step in sheet_of(comes).steps)
    order = [
        "Open",
        "Count",
        "Pot|Recut|Keep cool|Keep the seed",
        "apart",
        "Harden",
        "Plant out|under glass",
    ]
    places = [found.start() for each in order if (found := re.search(each, titles))]

    assert places[:2] == sorted(places[:2])
    if "straight" not in titles and "Harden" in titles:
        assert places == sorted(places)


def test_every_kind_of_step_is_on_one_of_the_sheets():
    told = "\n".join(text_of(sheet_of(one)) for one in TWENTY)
    words = {
        StepKind.OPEN: "Open at once.", StepKind.CHECK: "Count, read", StepKind.INSERT: "Recut and insert",
        StepKind.POT_UP: "Pot up, one", StepKind.KEEP_COOL: "Keep cool, dry", StepKind.START: "start into growth",
        StepKind.SHADE: "out of the sun", StepKind.FIRST_NIGHTS: "By night", StepKind.APART: "Keep apart",
        StepKind.POT_ROOTED: "Pot up when rooted", StepKind.CUTTINGS: "Take cuttings at 7 to 10 cm",
        StepKind.WINTER: "Overwinter the pelargoniums", StepKind.HARDEN: "Harden off",
        StepKind.PLANT_OUT: "Plant out", StepKind.UNDER_GLASS: "Keep under glass",
        StepKind.TRUE_TO_NAME: "True to name?",
    }  # fmt: skip

    assert set(StepKind) - set(words) == {StepKind.COLD_NIGHT}
    assert [kind for kind, text in words.items() if text not in told] == []
