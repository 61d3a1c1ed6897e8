import pytest

from exchange.domain.circle.border import BorderRow, Passage
from exchange.domain.posting.crossing import blocked, crossing
from tests.builders.posting import a_place

GB, NI = {"country": "GB", "subdivision": "ENG"}, {"country": "GB", "subdivision": "NIR"}
IE, NL = {"country": "IE", "subdivision": ""}, {"country": "NL", "subdivision": ""}
OREGON = {"country": "US", "subdivision": "OR"}
ARIZONA = {"country": "US", "subdivision": "AZ"}

ROWS = tuple(
    BorderRow(origin, destination, passage, "The usual caution.", f"{origin} to {destination}")
    for origin, destination, passage in (
        ("GB", "NI", Passage.BLOCKED),
        ("NI", "GB", Passage.NOTED),
        ("GB", "EU", Passage.BLOCKED),
        ("EU", "EU", Passage.NOTED),
        ("US", "US-AZ", Passage.BLOCKED),
        ("US", "US", Passage.NOTED),
        ("*", "*", Passage.BLOCKED),
    )
)


@pytest.mark.parametrize(
    ("sender", "receiver", "row"),
    [
        (GB, NI, "GB to NI"),
        (NI, GB, "NI to GB"),
        (GB, IE, "GB to EU"),
        (IE, NL, "EU to EU"),
        (IE, GB, "* to *"),
        (OREGON, ARIZONA, "US to US-AZ"),
        (ARIZONA, OREGON, "US to US"),
        (OREGON, GB, "* to *"),
    ],
)
def test_the_narrowest_row_is_found(sender, receiver, row):
    found = crossing(ROWS, a_place(1, **sender), a_place(2, **receiver))
    assert found.authority == row


@pytest.mark.parametrize("where", [GB, NI, IE, OREGON])
def test_within_one_area_there_is_no_border(where):
    assert crossing(ROWS, a_place(1, **where), a_place(2, **where)) is None


def test_only_a_blocked_row_blocks():
    assert blocked(ROWS, a_place(1, **GB), a_place(2, **NI))
    assert blocked(ROWS, a_place(1, **NI), a_place(2, **GB)) is None
    assert blocked((), a_place(1, **GB), a_place(2, **NI)) is None
