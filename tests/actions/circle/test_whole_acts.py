"""Setting a circle up, and changing a term of it: each is whole, or leaves nothing behind."""

import pytest

from exchange.actions.circle.set_up import NewCircle, every_circle, set_up
from exchange.actions.circle.terms import reset_term, set_term
from exchange.actions.kernel.terms_table import term
from exchange.actions.people.joining import Joining, join
from exchange.actions.people.members import AddressRefusedError, NewMember
from exchange.actions.people.towns import TownWanted, find_town
from exchange.records import MEMBERS
from tests.app_fixtures import NOW, a_house, token_of
from tests.builders.breaking import BrokenError, break_at, dump

OUR_CIRCLE = NewCircle("The Overfell Ring")
ADA = NewMember("Ada", email="ada@example.org")


@pytest.fixture
def house(tmp_path):
    with a_house(tmp_path) as made:
        yield made


@pytest.mark.parametrize(
    "step", ["circle.set_up.record_organiser", "people.members.write", "people.members.note"]
)
def test_a_circle_is_set_up_with_its_organiser_or_not_at_all(monkeypatch, house, step):
    before = dump(house.books)
    with monkeypatch.context() as patch:
        break_at(patch, f"exchange.actions.{step}")
        with pytest.raises(BrokenError):
            set_up(house, OUR_CIRCLE, ADA, NOW)
    assert dump(house.books) == before

    invited = set_up(house, OUR_CIRCLE, ADA, NOW)

    town = find_town(TownWanted("Ludlow, Shropshire"))
    entering = join(house, token_of(invited.link), Joining("Ada", town), NOW)
    with house.books.reading() as tx:
        (organiser,) = MEMBERS.all(tx, entering.circle_id, organiser=True)
    assert organiser.first_name == "Ada"


def test_an_organiser_who_is_refused_leaves_no_circle(house):
    with pytest.raises(AddressRefusedError):
        set_up(house, OUR_CIRCLE, NewMember("Ada", email="ada at example"), NOW)

    assert every_circle(house) == ()


@pytest.mark.parametrize("step", ["note", "ask"])
@pytest.mark.parametrize("reset", [False, True])
def test_a_term_is_changed_with_its_deed_and_its_task_or_not_at_all(
    monkeypatch, circle, step, reset
):
    organiser, one = circle.actor("Winnie"), term("loss_limit")
    if reset:
        set_term(organiser, one, 40, NOW)
    before = dump(circle.house.books)
    break_at(monkeypatch, f"exchange.actions.circle.terms.{step}")

    with pytest.raises(BrokenError):
        reset_term(organiser, one, NOW) if reset else set_term(organiser, one, 40, NOW)

    assert dump(circle.house.books) == before
