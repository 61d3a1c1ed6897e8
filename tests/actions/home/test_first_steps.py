"""The first steps of a circle and of a member end by themselves."""

from datetime import timedelta
from secrets import token_hex

import pytest

from exchange.actions.growing.batches import NewBatch, grow_too
from exchange.actions.growing.shelters import RoomRefusedError, tell_shelters
from exchange.actions.home.first_steps import SHOWN_FOR, Step, first_steps
from exchange.actions.people.members import NewMember, add_member, invite
from exchange.actions.sharing.claims import NewClaim, claim
from exchange.actions.sharing.share_out import NewShareOut, open_share_out
from exchange.actions.sharing.share_out_changes import cancel_share_out
from exchange.actions.sharing.spares import list_spare
from exchange.domain.growing.shelter import ShelterKind
from exchange.records import PLACES, SHELTERS
from tests.app_fixtures import NOW, a_day, ring
from tests.builders.breaking import dump
from tests.builders.offers import a_variety, new_spare, rows

TODAY = NOW.date()
COLD = frozenset({ShelterKind.COLD})


@pytest.fixture
def alone(house):
    mark = token_hex(4)
    return ring(house, f"Alone {mark}", members=("Winnie",), surname=f"Lone{mark}")


@pytest.fixture
def circle(house):
    mark = token_hex(4)
    return ring(house, f"Joined {mark}", members=("Winnie", "Effie"), surname=f"Ings{mark}")


def steps(circle, name, day=TODAY, acting_for=None):
    actor = circle.actor(name)
    if acting_for is not None:
        actor = actor.for_member(acting_for.id, acting_for.household_id)
    with circle.house.books.reading() as tx:
        return first_steps(tx, actor, day)


def undone(found):
    return [step for step, done in found.done if not done]


def opened(circle):
    new = NewShareOut("Spring", a_day(11), "a trial number")
    return open_share_out(circle.actor("Winnie"), new, NOW)


def test_a_new_circle_asks_its_organiser_for_people_spares_and_a_share_out(alone):
    found = steps(alone, "Winnie")

    assert found.of_circle
    assert undone(found) == [Step.PEOPLE, Step.SPARES, Step.SHARE_OUT]
    assert found.current is Step.PEOPLE


def test_each_is_done_by_doing_it_in_any_order(alone):
    winnie = alone.actor("Winnie")
    list_spare(winnie, new_spare(a_variety(alone)), NOW)
    assert undone(steps(alone, "Winnie")) == [Step.PEOPLE, Step.SHARE_OUT]

    add_member(winnie, NewMember("Hob"), NOW)

    found = steps(alone, "Winnie")
    assert (undone(found), found.people) == ([Step.SHARE_OUT], 2)


def test_the_circles_steps_end_once_a_share_out_has_been_opened_and_the_members_own_follow(alone):
    share_out = opened(alone)

    found = steps(alone, "Winnie")

    assert not found.of_circle
    assert undone(found) == [Step.SHELTER, Step.PLANTS, Step.WISH]
    cancel_share_out(alone.actor("Winnie"), share_out, NOW)
    assert steps(alone, "Winnie").of_circle


def test_a_member_sees_their_own_and_the_organiser_theirs_when_acting_for_them(circle):
    own = steps(circle, "Effie")
    acted = steps(circle, "Winnie", acting_for=circle["Effie"])

    assert own == acted
    assert not own.of_circle


def test_a_members_steps_are_done_by_a_shelter_a_plant_and_a_wish(circle):
    effie = circle.actor("Effie")
    tell_shelters(effie, COLD, NOW)
    found = steps(circle, "Effie")
    assert (undone(found), found.shelters) == ([Step.PLANTS, Step.WISH], (ShelterKind.COLD,))

    variety = a_variety(circle)
    grow_too(effie, NewBatch(variety, 2), NOW)
    assert undone(steps(circle, "Effie")) == [Step.WISH]

    claim(effie, NewClaim(a_variety(circle, "Ferry Light")), NOW)
    assert steps(circle, "Effie") is None


def test_a_members_steps_go_a_month_after_joining(circle):
    last = TODAY + SHOWN_FOR

    assert steps(circle, "Effie", last).ends_on == last
    assert steps(circle, "Effie", last + timedelta(days=1)) is None


def test_somebody_invited_who_has_not_joined_is_shown_none(circle):
    hob = invite(
        circle.actor("Winnie"), NewMember("Hob", email=f"hob{circle.circle_id}@example.org"), NOW
    ).member

    assert steps(circle, "Winnie", acting_for=hob) is None


def test_shelters_are_told_all_at_once_and_none_at_all_is_refused(circle):
    effie = circle.actor("Effie")
    tell_shelters(effie, COLD | {ShelterKind.INDOORS}, NOW)
    before = dump(circle.house.books)

    with pytest.raises(RoomRefusedError, match="open ground"):
        tell_shelters(effie, frozenset(), NOW)

    assert dump(circle.house.books) == before
    place = circle.place("Effie").id
    assert {one.kind for one in rows(circle, SHELTERS) if one.place_id == place} == COLD | {
        ShelterKind.INDOORS
    }


def test_shelters_wait_for_a_place(circle):
    effie = circle.actor("Effie")
    with circle.house.books.writing() as tx:
        PLACES.remove(tx, circle.circle_id, circle.place("Effie").id)

    assert not steps(circle, "Effie").placed
    with pytest.raises(RoomRefusedError, match="where you grow"):
        tell_shelters(effie, COLD, NOW)
