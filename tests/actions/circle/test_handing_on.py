"""Handing the organiser's part on: one act, told to the new one, who can hand it back; and what the pack tells."""

import pytest

from exchange.actions.circle.handing_on import HandOverRefusedError, hand_on, hand_over_pack
from exchange.actions.kernel.actor import NotAllowedError
from exchange.actions.people.members import MemberNameRefusedError
from exchange.actions.posting.closures import close_day
from exchange.records import LETTERS, MEMBERS
from tests.app_fixtures import NOW, a_day, a_house, ring
from tests.web.walk import furnish


@pytest.fixture
def circle(tmp_path):
    with a_house(tmp_path) as house:
        made = ring(house, members=("Winnie", "Cuthbert", "Effie", "Odo"))
        furnish(made)
        yield made


def organisers(circle):
    with circle.house.books.reading() as tx:
        return [one.first_name for one in MEMBERS.all(tx, circle.circle_id, organiser=True)]


def test_the_permission_moves_and_the_new_one_is_told(circle):
    hand_on(circle.actor("Winnie"), circle["Effie"].id, NOW)
    with circle.house.books.reading() as tx:
        letter = LETTERS.all(tx, circle.circle_id, member_id=circle["Effie"].id)[-1]

    assert organisers(circle) == ["Effie"]
    assert letter.subject == "You are now the organiser of The Lowmoor Circle"
    assert "Winnie has handed the organiser’s part to you" in letter.body
    with pytest.raises(NotAllowedError):
        hand_over_pack(circle.actor("Winnie"), NOW)


def test_the_new_one_hands_it_back(circle):
    hand_on(circle.actor("Winnie"), circle["Effie"].id, NOW)
    hand_on(circle.actor("Effie"), circle["Winnie"].id, NOW)

    assert organisers(circle) == ["Winnie"]


@pytest.mark.parametrize("name", ["Winnie", "Odo"])
def test_it_goes_to_somebody_else_who_signs_in(circle, name):
    with pytest.raises(HandOverRefusedError):
        hand_on(circle.actor("Winnie"), circle[name].id, NOW)

    assert organisers(circle) == ["Winnie"]


def test_it_goes_to_nobody_who_has_left(circle):
    with circle.house.books.writing() as tx:
        MEMBERS.change(tx, circle.circle_id, circle["Effie"].id, left_at=NOW)

    with pytest.raises(MemberNameRefusedError):
        hand_on(circle.actor("Winnie"), circle["Effie"].id, NOW)


def test_only_the_organiser_hands_it_on(circle):
    with pytest.raises(NotAllowedError):
        hand_on(circle.actor("Effie"), circle["Cuthbert"].id, NOW)


def test_the_pack_tells_what_stands_and_what_is_open(circle):
    close_day(circle.actor("Winnie"), "GB", a_day(10, 5), "Depot shut", NOW)
    pack = hand_over_pack(circle.actor("Winnie"), NOW)

    assert (len(pack.members), [one.first_name for one in pack.organisers]) == (4, ["Winnie"])
    assert [one.name for one in pack.share_outs] == ["Spring"]
    assert [(one.sender, one.receiver) for one in pack.promised] == [("Winnie", "Effie")]
    assert pack.closures == ((a_day(10, 5), "Depot shut"),)
    assert pack.changed == ()
    assert "Hidden Lane" not in repr(pack)
