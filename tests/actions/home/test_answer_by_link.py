"""An answer by a link is all or nothing: it is kept with the link used up, or not at all."""

from dataclasses import replace
from datetime import timedelta

import pytest

from exchange.actions.home.answer_by_link import (
    CanGo,
    NeverCame,
    NotAnsweredError,
    NotGone,
    PressedLink,
    Went,
    answer_by_link,
    question_of,
)
from exchange.actions.kernel.links import LinkGoneError, Purpose, make_link
from exchange.actions.kernel.refusals import RefusedError
from exchange.actions.posting.parcels import Arrival
from exchange.domain.posting.parcel import ParcelState
from exchange.domain.sharing.states import STANDING, AllocationState
from exchange.records import ALLOCATIONS
from tests.app_fixtures import token_of
from tests.builders.breaking import BrokenError, break_at, dump
from tests.builders.season import MONDAY, again, morning

PARCELS_STEPS = "exchange.actions.posting.parcels"
TUESDAY = MONDAY + timedelta(days=1)
THURSDAY_MORNING = morning(MONDAY + timedelta(days=3), 9)


def a_link(season, name, purpose):
    """Give a link about Effie's parcel, as it is followed from a letter."""
    member, parcel = season.ring[name], season.parcel_to("Effie")
    with season.house.books.writing() as tx:
        link = make_link(tx, season.house, member, purpose, THURSDAY_MORNING, parcel.id)
    return PressedLink(token_of(link), purpose)


def press(season, link, said):
    return answer_by_link(season.house, link, said, THURSDAY_MORNING)


ANSWERS = {
    "went": ("Winnie", Purpose.DID_IT_GO, Went()),
    "not gone": ("Winnie", Purpose.DID_IT_GO, NotGone()),
    "goes later": ("Winnie", Purpose.DID_IT_GO, NotGone(MONDAY + timedelta(days=7))),
    "came": ("Effie", Purpose.DID_IT_COME, Arrival(TUESDAY)),
    "never came": ("Effie", Purpose.DID_IT_COME, NeverCame()),
    "can go": ("Winnie", Purpose.SENDER_ANSWER, CanGo()),
}

STEPS = [
    ("went", f"{PARCELS_STEPS}.note"),
    ("went", f"{PARCELS_STEPS}.rewrite"),
    ("not gone", "exchange.actions.posting.not_gone.rewrite"),
    ("not gone", "exchange.actions.posting.not_gone.ask"),
    ("goes later", "exchange.actions.posting.change_day.rewrite"),
    ("goes later", "exchange.actions.posting.change_day.write_to"),
    ("came", f"{PARCELS_STEPS}.note"),
    ("came", f"{PARCELS_STEPS}.rewrite"),
    ("never came", f"{PARCELS_STEPS}.rewrite"),
    ("can go", "exchange.actions.sharing.sender_answer.record_yes"),
    ("can go", "exchange.actions.sharing.sender_answer.gather"),
    ("can go", "exchange.actions.sharing.sender_answer.ask"),
]


@pytest.mark.parametrize(("answer", "step"), STEPS)
def test_what_breaks_in_the_middle_keeps_nothing_and_the_link_works_once(
    season, monkeypatch, answer, step
):
    name, purpose, said = ANSWERS[answer]
    link = a_link(season, name, purpose)
    before = dump(season.house.books)

    with monkeypatch.context() as patched:
        break_at(patched, step)
        with pytest.raises(BrokenError):
            press(season, link, said)

    assert dump(season.house.books) == before, "nothing is kept, and the link is unused"
    press(season, link, said)
    assert dump(season.house.books) != before
    with pytest.raises(LinkGoneError):
        press(season, link, said)


def test_what_is_refused_leaves_all_as_it_was(season):
    link = a_link(season, "Winnie", Purpose.DID_IT_GO)
    before = dump(season.house.books)

    with pytest.raises(RefusedError):
        press(season, link, Went(MONDAY + timedelta(days=30)))

    assert dump(season.house.books) == before


def test_a_link_says_only_what_it_was_made_for(season):
    link = a_link(season, "Winnie", Purpose.DID_IT_GO)
    before = dump(season.house.books)

    for other in (NeverCame(), Arrival(TUESDAY), CanGo()):
        with pytest.raises(LinkGoneError):
            press(season, link, other)
    with pytest.raises(LinkGoneError):
        press(season, replace(link, purpose=Purpose.DID_IT_COME), NeverCame())

    assert dump(season.house.books) == before


def test_went_without_a_day_is_the_day_it_was_to_go(season):
    answered = press(season, a_link(season, "Winnie", Purpose.DID_IT_GO), Went())

    parcel = again(season, season.parcel_to("Effie"))
    assert parcel.posted_on == MONDAY
    assert answered.parcel == parcel


def test_went_without_a_day_asks_for_one_where_it_was_to_go_on_none(season):
    press(season, a_link(season, "Winnie", Purpose.DID_IT_GO), NotGone())
    link = a_link(season, "Winnie", Purpose.DID_IT_GO)

    with pytest.raises(NotAnsweredError, match="Give the day"):
        press(season, link, Went())

    assert question_of(season.house, link, THURSDAY_MORNING).opened.token == link.token


def test_an_answer_tells_what_stands_and_not_what_was_pressed(season):
    first = a_link(season, "Effie", Purpose.DID_IT_COME)
    second = a_link(season, "Effie", Purpose.DID_IT_COME)
    press(season, first, Arrival(TUESDAY))

    answered = press(season, second, NeverCame())

    assert (answered.parcel.state, answered.parcel.arrived_on) == (ParcelState.ARRIVED, TUESDAY)


def test_all_can_go_says_yes_to_what_is_asked(season):
    answered = press(season, a_link(season, "Winnie", Purpose.SENDER_ANSWER), CanGo())

    with season.house.books.reading() as tx:
        standing = ALLOCATIONS.all(tx, season.circle_id, state=STANDING)
    agreed = [one for one in standing if one.state is AllocationState.AGREED]
    assert sum(one.count for one in agreed) == answered.plants > 0


def test_looking_uses_nothing_up(season):
    link = a_link(season, "Winnie", Purpose.DID_IT_GO)
    before = dump(season.house.books)

    asked = question_of(season.house, link, THURSDAY_MORNING)

    assert asked.parcel.code == season.parcel_to("Effie").code
    assert dump(season.house.books) == before
