"""A claim that nothing offered can meet says so when it is made and on its row, and how to change it."""

from datetime import date

import pytest
from sqlalchemy import event

from exchange.actions.sharing.claims import would_like_one
from exchange.actions.sharing.page_claims import claims_page
from exchange.actions.sharing.share_out import NewShareOut, open_share_out
from exchange.domain.growing.batch import Material, Raised
from exchange.domain.growing.shelter import ShelterKind
from exchange.records import SHELTERS
from tests.app_fixtures import NOW
from tests.builders.offers import a_claim, a_spare, a_variety


def stuck(circle, who="Effie"):
    return [one.stuck for one in claims_page(circle.actor(who), NOW).lines]


def statements(circle, who="Effie"):
    """Count the statements the page of claims asks."""
    seen = []
    engine = circle.house.books.engine

    def heard(*args):
        seen.append(args[2])

    event.listen(engine, "before_cursor_execute", heard)
    try:
        claims_page(circle.actor(who), NOW)
    finally:
        event.remove(engine, "before_cursor_execute", heard)
    return len(seen)


def test_a_material_it_does_not_take_is_said_with_the_press(circle):
    variety_id = a_variety(circle)
    a_spare(circle, variety_id=variety_id, material=Material.STOOL)

    asked = would_like_one(circle.actor("Effie"), variety_id, NOW)

    (said,) = stuck(circle)
    assert not asked.can_be_met
    assert said.press == "Also take stools"
    assert Material.STOOL in said.change.materials


def test_what_can_be_met_and_what_nobody_offers_say_nothing(circle):
    offered, wished = a_variety(circle), a_variety(circle, name="Brass Pin")
    a_spare(circle, variety_id=offered)

    asked = [would_like_one(circle.actor("Effie"), one, NOW) for one in (offered, wished)]

    assert [one.can_be_met for one in asked] == [True, True]
    assert stuck(circle) == [None, None]


def test_a_shelter_that_does_not_fit_leads_to_the_shelters_of_its_place(circle):
    variety_id = a_variety(circle)
    a_spare(circle, variety_id=variety_id, raised=Raised.IN_HEAT, send_by=date(2027, 4, 20))
    place_id = circle.place("Effie").id
    with circle.house.books.writing() as tx:
        SHELTERS.add(tx, circle.circle_id, place_id=place_id, kind=ShelterKind.COLD)
    a_claim(circle, variety_id=variety_id)

    (said,) = stuck(circle)

    assert (said.press, said.shelters_of) == ("", place_id)
    assert "There is no shelter for it where it would stand" in said.sentence


@pytest.mark.parametrize(("closes", "says"), [(date(2027, 4, 5), True), (date(2027, 4, 20), False)])
def test_what_must_go_before_the_closing_day_cannot_be_given_in_it(circle, closes, says):
    variety_id = a_variety(circle)
    a_spare(circle, variety_id=variety_id, send_by=date(2027, 4, 10))
    a_claim(circle, variety_id=variety_id)

    open_share_out(circle.actor("Winnie"), NewShareOut("Spring", closes, "4711"), NOW)

    assert (stuck(circle) == [None]) is says


def test_the_page_asks_as_many_statements_however_much_is_offered_and_asked(circle):
    names = ["Copper Lid", "Brass Pin", "Iron Hoop", "Pewter Cup"]
    first, *others = [a_variety(circle, name=name) for name in names]
    a_spare(circle, variety_id=first, material=Material.STOOL)
    a_claim(circle, variety_id=first)
    few = statements(circle)

    for one in others:
        a_spare(circle, variety_id=one, material=Material.STOOL)
        a_spare(circle, who="Winnie", variety_id=one)
        a_claim(circle, variety_id=one)

    assert statements(circle) == few
