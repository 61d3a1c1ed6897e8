"""How a member is called and reached, and the one thing nobody may change for them."""

import pytest

from exchange.actions.people.acting_for import begin_acting
from exchange.actions.people.households import ContactTerms, TermsRefusedError, set_contact
from exchange.records import MEMBERS
from tests.app_fixtures import NOW, a_house, ring


@pytest.fixture
def circle(tmp_path):
    with a_house(tmp_path) as house:
        yield ring(house, members=("Winnie", "Effie", "Odo"))


def address_of(circle, name):
    with circle.house.books.reading() as tx:
        return MEMBERS.get(tx, circle.circle_id, circle[name].id).email


def acting_for(circle, name):
    return begin_acting(circle.actor("Winnie"), circle[name].id, NOW)


def test_the_address_somebody_signs_in_with_is_not_changed_even_by_the_organiser(circle):
    before = address_of(circle, "Effie")

    with pytest.raises(TermsRefusedError):
        set_contact(
            acting_for(circle, "Effie"), ContactTerms("Effie", email="other@example.org"), NOW
        )

    assert address_of(circle, "Effie") == before


def test_who_never_signs_in_may_be_given_an_address(circle):
    set_contact(acting_for(circle, "Odo"), ContactTerms("Odo", email="odo@example.org"), NOW)

    assert address_of(circle, "Odo") == "odo@example.org"
