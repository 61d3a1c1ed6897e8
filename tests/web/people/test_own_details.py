"""A household's own details, edited by two at once: nothing is lost and both texts are shown."""

import pytest

from exchange.records import HOUSEHOLDS
from tests.app_fixtures import Visitor
from tests.builders.edits import version_in
from tests.builders.offers import row


def address_of(circle):
    return row(circle, HOUSEHOLDS, circle["Cuthbert"].household_id).address


@pytest.fixture
def partner(here, circle):
    """The same account on a second telephone."""
    return Visitor(here, circle["Cuthbert"])


def test_the_second_of_two_edits_is_shown_both_texts_and_nothing_is_kept_yet(
    circle, cuthbert, partner
):
    opened = version_in(cuthbert.get("/garden/address"))
    partner.post("/garden/address", {"address": "1 Mill Lane", "version": opened})

    second = cuthbert.post("/garden/address", {"address": "2 Church Row", "version": opened})

    assert second.status_code == 422
    assert "changed by somebody else" in second.text
    assert "“1 Mill Lane”" in second.text
    assert "2 Church Row</textarea>" in second.text
    assert address_of(circle) == "1 Mill Lane"


def test_pressing_again_keeps_the_second_edit(circle, cuthbert, partner):
    opened = version_in(cuthbert.get("/garden/address"))
    partner.post("/garden/address", {"address": "1 Mill Lane", "version": opened})
    second = cuthbert.post("/garden/address", {"address": "2 Church Row", "version": opened})

    third = cuthbert.post(
        "/garden/address", {"address": "2 Church Row", "version": version_in(second)}
    )

    assert third.status_code == 303
    assert address_of(circle) == "2 Church Row"


def test_an_edit_of_something_else_does_not_stand_in_the_way(circle, cuthbert, partner):
    opened = version_in(cuthbert.get("/garden/address"))
    days = version_in(partner.get("/garden/posting"))
    partner.post(
        "/garden/posting", {"posting_weekdays": "1", "parcels_a_day": "2", "version": days}
    )

    kept = cuthbert.post("/garden/address", {"address": "2 Church Row", "version": opened})

    assert kept.status_code == 303
    assert address_of(circle) == "2 Church Row"


def test_ticks_days_and_names_that_were_changed_are_read_out(cuthbert, partner):
    opened = version_in(cuthbert.get("/garden/posting"))
    partner.post(
        "/garden/posting", {"posting_weekdays": "1", "parcels_a_day": "2", "version": opened}
    )

    second = cuthbert.post(
        "/garden/posting", {"posting_weekdays": "0", "parcels_a_day": "2", "version": opened}
    )

    assert "is now: Tuesday." in second.text
    assert (
        second.text.count("This was changed meanwhile") == 2
    )  # in the list above and at the field
