"""What is held of a member: all of theirs, nothing of others, no secret."""

import json

import pytest

from exchange.actions.circle.page_held import held
from exchange.actions.kernel.actor import NotAllowedError, clock_actor
from exchange.records.held import SECRETS
from tests.app_fixtures import NOW, a_house, ring
from tests.builders.breaking import dump
from tests.web.walk import HIDDEN, furnish


@pytest.fixture(scope="module")
def circle(tmp_path_factory):
    with a_house(tmp_path_factory.mktemp("held")) as house:
        made = ring(house)
        furnish(made)
        yield made


def of(circle, name="Effie"):
    return held(circle.actor(name), NOW)


def test_what_they_told_is_all_there_in_file_and_text(circle):
    file, text = of(circle).json, of(circle).text

    for word in (*HIDDEN, "effie.pellow@example.org", "Inverness", "Ash over Lowmoor"):
        assert word in file
        assert word in text


def test_every_table_with_a_row_of_their_household_is_in_it(circle):
    tables = of(circle).whole["tables"]

    assert {
        "account", "member", "household", "place", "shelter", "away", "batch", "spare", "claim",
        "allocation", "parcel", "parcel_line", "deed", "frost_note", "observation", "daily_file",
        "place_skill", "letter",
    } <= set(tables)  # fmt: skip
    (member,) = tables["member"]
    assert member["first_name"] == "Effie"
    assert len(tables["spare"]) == 1


def test_nothing_of_others_is_in_it(circle):
    file = of(circle).json

    assert "Hidden Lane" not in of(circle, "Cuthbert").json
    for word in ("cuthbert.pellow@example.org", "Penzance"):
        assert word not in file


def test_no_secret_is_in_it(circle):
    tables = of(circle).whole["tables"]
    kept = dump(circle.house.books)

    assert not [row for rows in tables.values() for row in rows if SECRETS & row.keys()]
    assert kept["account"]


def test_the_file_is_json_that_says_what_it_is(circle):
    whole = json.loads(of(circle).json)

    assert (whole["form"], whole["circle"]) == (1, "The Lowmoor Circle")
    assert "Ash over Lowmoor" in whole["varieties"].values()


def test_the_organiser_asks_for_the_member_they_act_for(circle):
    effie = circle["Effie"]
    acting = circle.actor("Winnie").for_member(effie.id, effie.household_id)

    assert held(acting, NOW).name == "Effie Pellow"


def test_nothing_is_held_of_the_clock(circle):
    with pytest.raises(NotAllowedError):
        held(clock_actor(circle.house, circle.circle_id), NOW)
