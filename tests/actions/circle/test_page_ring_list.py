"""The ring list: a telephone number stands on it only with leave given for it."""

import pytest

from exchange.actions.circle.page_ring_list import ring_list
from exchange.actions.people.households import ContactTerms, set_contact
from tests.app_fixtures import NOW, a_house, ring


@pytest.fixture
def circle(tmp_path):
    with a_house(tmp_path) as house:
        yield ring(house)


def tell(circle, name, number, *, to_senders=False, listed=False):
    member = circle[name]
    terms = ContactTerms(name, member.surname, member.email or "", number, to_senders, listed)
    set_contact(circle.actor(name), terms, NOW)


def test_a_number_stands_there_with_leave_by_county(circle):
    tell(circle, "Effie", "01632 960111", listed=True)
    tell(circle, "Cuthbert", "01632 960222", listed=True)

    found = ring_list(circle.actor("Winnie"))

    assert [county for county, _people in found.counties] == ["Cornwall", "Highland"]
    assert found.text == "Cornwall\n- Cuthbert: 01632 960222\n\nHighland\n- Effie: 01632 960111"
    assert found.without == 1


def test_leave_given_to_senders_is_none_for_the_list(circle):
    tell(circle, "Effie", "01632 960111", to_senders=True)

    assert ring_list(circle.actor("Cuthbert")).counties == ()


def test_leave_without_a_number_puts_nobody_on_it(circle):
    tell(circle, "Effie", "", listed=True)

    assert ring_list(circle.actor("Cuthbert")).counties == ()


def test_leave_is_taken_back(circle):
    tell(circle, "Effie", "01632 960111", listed=True)
    tell(circle, "Effie", "01632 960111")

    assert ring_list(circle.actor("Cuthbert")).counties == ()


def test_no_surname_is_on_it(circle):
    tell(circle, "Effie", "01632 960111", listed=True)

    assert "Pellow" not in repr(ring_list(circle.actor("Cuthbert")).counties)
