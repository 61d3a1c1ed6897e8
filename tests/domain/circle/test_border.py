import pytest

from exchange.domain.circle.border import BorderRow, Passage, passage
from exchange.reference.borders import border_rows
from tests.builders.weather import a_place


def at(country, subdivision=""):
    return a_place(country=country, subdivision=subdivision)


@pytest.mark.parametrize(
    ("origin", "destination", "verdict"),
    [
        (at("GB", "ENG"), at("GB", "SCT"), Passage.ALLOWED),
        (at("GB", "ENG"), at("GB", "NIR"), Passage.BLOCKED),
        (at("GB", "NIR"), at("GB", "WLS"), Passage.NOTED),
        (at("GB", "WLS"), at("IE"), Passage.BLOCKED),
        (at("NL"), at("GB", "ENG"), Passage.BLOCKED),
        (at("NL"), at("IE"), Passage.NOTED),
        (at("IE"), at("IE"), Passage.ALLOWED),
        (at("GB", "NIR"), at("IE"), Passage.NOTED),
        (at("US", "OR"), at("US", "OR"), Passage.ALLOWED),
        (at("US", "OR"), at("US", "CA"), Passage.BLOCKED),
        (at("US"), at("US"), Passage.BLOCKED),
        (at("NZ"), at("AU", "VIC"), Passage.BLOCKED),
        (at("GB", "ENG"), at("US", "OR"), Passage.BLOCKED),
    ],
)
def test_packaged_rows_say_what_may_pass(origin, destination, verdict):
    row = passage(origin, destination, border_rows())

    assert row.passage is verdict


def test_whatever_is_not_plainly_allowed_names_an_authority_and_a_caution():
    for row in border_rows():
        assert row.authority
        assert row.caution.endswith(".")
        assert row.as_of is not None


def test_a_narrower_row_wins():
    rows = (
        BorderRow("EU", "EU", Passage.NOTED, "", ""),
        BorderRow("EU", "IE", Passage.BLOCKED, "", ""),
    )

    assert passage(at("NL"), at("IE"), rows).passage is Passage.BLOCKED
    assert passage(at("IE"), at("NL"), rows).passage is Passage.NOTED


def test_a_pair_no_row_knows_is_blocked():
    assert passage(at("GB", "ENG"), at("IE"), ()).passage is Passage.BLOCKED


def test_within_one_area_parcels_pass_unless_a_row_of_it_says_otherwise():
    row = BorderRow("GB", "GB", Passage.NOTED, "A note.", "APHA")

    assert passage(at("GB", "ENG"), at("GB", "ENG"), ()).passage is Passage.ALLOWED
    assert passage(at("GB", "ENG"), at("GB", "SCT"), (row,)) is row
