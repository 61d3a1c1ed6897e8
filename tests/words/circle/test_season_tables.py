import pytest

from exchange.words.circle.season_tables import plan_table, share_out_tables, summary
from exchange.words.kernel.phrase import NBSP

PARCEL = {
    "state": "planned",
    "code": "Bramble 27",
    "sender": "Maud",
    "receiver": "Colin",
    "posting_day": "2027-04-19",
    "arrival_from": "2027-04-20",
    "arrival_to": "2027-04-22",
    "way": "first class",
    "loss_chance": 0.02,
    "announced": True,
    "held": False,
    "lines": [{"count": 3, "variety": "Fen Dawn"}, {"count": 1, "variety": "Old Wick"}],
    "reasons": ["A mild week."],
    "weather_source": "forecast",
}
HELD = PARCEL | {
    "code": "Bramble 28",
    "posting_day": None,
    "loss_chance": None,
    "held": True,
    "state": "not ready",
}
CLAIM = {"id": 1, "household": "Colin", "variety": "Fen Dawn", "asked": 3, "given": 3, "met": True}
SHORT = CLAIM | {"id": 2, "household": "Effie", "given": 1, "met": False, "reason": "Rule 3."}
SHORT_OF = " (not ready: {}, waiting for weather: 0, no way: 0)."
SEASON = {
    "rules": [{"name": "met", "value": 1, "bound": None, "status": "proven"}],
    "spares": [{"id": 7, "variety": "Fen Dawn", "household": "Maud"}],
    "claims": [CLAIM, SHORT],
    "allocations": [{"spare": 7, "claim": 2, "count": 1}, {"spare": 7, "claim": 1, "count": 3}],
    "parcels": [PARCEL, HELD],
}


def rows(text):
    """Give the cells of each line of a text."""
    lines = text.replace(NBSP, " ").splitlines()
    return [[cell.strip() for cell in line.split("  ") if cell.strip()] for line in lines]


def test_a_claim_met_in_full_is_given_its_plants_and_no_reason():
    told = rows(share_out_tables(SEASON))
    given, unmet = (
        told.index(["Variety", "Plants", "From", "To"]),
        told.index(["Household", "Variety", "Given", "Why"]),
    )

    assert told[given + 2 : given + 4] == [
        ["Fen Dawn", "1", "Maud", "Effie"],
        ["Fen Dawn", "3", "Maud", "Colin"],
    ]
    assert told[unmet + 2 :] == [["Effie", "Fen Dawn", "1 / 3", "Rule 3."]]


def test_a_rule_without_a_bound_leaves_its_cell_empty():
    assert ["1", "met", "1", "proven"] in rows(share_out_tables(SEASON))


def test_a_parcel_has_its_day_and_what_is_held_has_none():
    told = rows(plan_table(SEASON, {"forecast": "by the forecast"}))

    (posted,) = (row for row in told if row[:1] == ["Bramble 27"])
    (held,) = (row for row in told if row[:1] == ["Bramble 28"])
    assert posted[3] == "Mon 19 April by first class, comes Tue 20 to Thu 22 April"
    assert len(posted) == 5
    assert held == ["Bramble 28", "Maud", "Colin", "not ready"]


def test_below_a_parcel_stand_its_plants_the_reasons_and_the_source():
    told = plan_table(SEASON, {"forecast": "by the forecast"})

    assert told.count("3 Fen Dawn, 1 Old Wick. A mild week. (by the forecast)") == 2


@pytest.mark.parametrize(
    ("claims", "parcels", "line"),
    [
        (
            [CLAIM, SHORT],
            [PARCEL, HELD],
            "1 of 2 claims met; 1 of 2 parcels have a posting day" + SHORT_OF.format(1),
        ),
        (
            [],
            [],
            "0 of 0 claims met; 0 of 0 parcels have a posting day" + SHORT_OF.format(0),
        ),
    ],
)
def test_one_line_counts_what_is_met_and_what_has_a_day(claims, parcels, line):
    told = summary(SEASON | {"claims": claims, "parcels": parcels})

    assert told.replace(NBSP, " ") == line
