"""Somebody else posts: asked first, then by their days, with the address shown to them only then."""

from datetime import timedelta

import pytest

from exchange.actions.home.page_todo import ChoreKind, todo_page
from exchange.actions.kernel.actor import NotAllowedError
from exchange.actions.people.away import NewAway, go_away
from exchange.actions.people.households import AddressTerms, set_address
from exchange.actions.posting.page_papers import papers_page
from exchange.actions.posting.page_parcel import parcel_page
from exchange.actions.posting.parcels import AlreadyOnItsWayError, say_posted
from exchange.actions.posting.plan_facts import facts_of
from exchange.actions.posting.questions import ask_questions
from exchange.actions.posting.somebody_else import (
    CannotPostItError,
    NotAskedError,
    ask_to_post,
    leave_to_sender,
    somebody_else_page,
    take_over,
)
from exchange.records import DIARY, HOUSEHOLDS, LETTERS, PARCELS
from tests.app_fixtures import NOW
from tests.builders.season import MONDAY, again, morning


@pytest.fixture
def cuthbert(season):
    return season.ring.actor("Cuthbert")


@pytest.fixture
def asked(season, parcel, cuthbert):
    effie = season.ring.actor("Effie")
    set_address(effie, AddressTerms("9 Hidden Lane\nInverness", ""), NOW)
    ask_to_post(season.organiser, parcel.id, cuthbert.household_id, NOW)
    return parcel


@pytest.fixture
def taken(asked, cuthbert):
    take_over(cuthbert, asked.id, NOW)
    return asked


def letters(season, name, kind):
    with season.house.books.reading() as tx:
        return LETTERS.all(tx, season.circle_id, member_id=season.ring[name].id, kind=kind)


def posting_dates(season, parcel, name):
    with season.house.books.reading() as tx:
        rows = DIARY.all(tx, season.circle_id, household_id=season.ring[name].household_id)
    return [
        one for one in rows if one.key == f"parcel-{parcel.id}-posting" and not one.cancelled_on
    ]


def test_who_is_asked_sees_the_parcel_and_not_where_it_goes(season, asked, cuthbert):
    page = parcel_page(cuthbert, asked.id, NOW, fresh=True)

    assert page.who_posts.may_take_over
    assert not page.may_post
    assert page.address is None
    assert not page.address_hidden
    (letter,) = letters(season, "Cuthbert", "take_over")
    assert "Hidden" not in letter.body
    assert "Effie" not in letter.body
    kinds = [one.kind for one in todo_page(cuthbert, NOW).chores]
    assert ChoreKind.TAKE_OVER in kinds


def test_once_taken_over_they_see_the_address_and_say_it_went(season, taken, cuthbert):
    page = parcel_page(cuthbert, taken.id, NOW, fresh=True)

    assert page.address is not None
    assert "9 Hidden Lane" in page.address.lines
    assert len(letters(season, "Winnie", "taken_over")) == 1
    say_posted(cuthbert, taken.id, MONDAY, morning(MONDAY, 17))
    assert again(season, taken).posted_on == MONDAY


def test_dates_papers_and_questions_go_to_who_posts(season, taken, cuthbert):
    assert posting_dates(season, taken, "Cuthbert")
    assert not posting_dates(season, taken, "Winnie")
    codes = [one.entry.code for one in papers_page(cuthbert, NOW).lines]
    assert taken.code in codes

    ask_questions(season.clock, morning(MONDAY + timedelta(days=1), 9))
    assert taken.code in letters(season, "Cuthbert", "did_it_go")[0].subject


def test_the_days_are_weighed_by_who_posts(season, taken, cuthbert):
    days = NewAway(MONDAY, MONDAY + timedelta(days=12), cannot_receive=False, cannot_post=True)
    go_away(cuthbert, days, NOW)
    with season.house.books.reading() as tx:
        (planned,) = [
            one for one in facts_of(tx, season.circle_id, NOW).parcels if one.id == taken.id
        ]
    assert planned.posted_by == cuthbert.household_id

    with season.house.books.writing() as tx:
        PARCELS.change(tx, season.circle_id, taken.id, announced_day=None, state="planned")
    season.plan()
    moved = again(season, taken).posting_day
    assert moved is None or moved > MONDAY + timedelta(days=12)


def test_a_no_needs_no_reason_and_the_sender_hears_it(season, asked, cuthbert):
    leave_to_sender(cuthbert, asked.id, NOW)

    assert again(season, asked).asked_to_post_id is None
    assert len(letters(season, "Winnie", "yours_to_post")) == 1
    with pytest.raises(NotAllowedError):
        parcel_page(cuthbert, asked.id, NOW, fresh=True)


def test_the_sender_can_post_it_after_all(season, taken, cuthbert):
    leave_to_sender(season.ring.actor("Winnie"), taken.id, NOW)

    assert again(season, taken).poster_household_id is None
    assert posting_dates(season, taken, "Winnie")
    assert not posting_dates(season, taken, "Cuthbert")
    assert len(letters(season, "Cuthbert", "yours_to_post")) == 1
    with pytest.raises(NotAllowedError):
        say_posted(cuthbert, taken.id, MONDAY, morning(MONDAY, 17))


def test_neither_end_nor_who_has_left_can_be_asked(season, parcel, cuthbert):
    effie, winnie = season.ring["Effie"].household_id, season.ring["Winnie"].household_id
    choices = dict(somebody_else_page(season.organiser, parcel.id, NOW).choices)
    assert cuthbert.household_id in choices
    assert not {effie, winnie} & set(choices)
    with season.house.books.writing() as tx:
        HOUSEHOLDS.change(tx, season.circle_id, cuthbert.household_id, left_on=MONDAY)

    for household_id in (effie, winnie, cuthbert.household_id, 999):
        with pytest.raises(CannotPostItError):
            ask_to_post(season.organiser, parcel.id, household_id, NOW)


def test_strangers_cannot_take_over_nor_anybody_what_has_gone(season, parcel, cuthbert):
    with pytest.raises(NotAllowedError):
        take_over(cuthbert, parcel.id, NOW)
    with pytest.raises(NotAllowedError):
        ask_to_post(season.ring.actor("Effie"), parcel.id, cuthbert.household_id, NOW)
    with pytest.raises(NotAskedError):
        take_over(season.organiser, parcel.id, NOW)
    with pytest.raises(NotAskedError):
        leave_to_sender(season.organiser, parcel.id, NOW)
    say_posted(season.organiser, parcel.id, MONDAY, morning(MONDAY, 17))
    with pytest.raises(AlreadyOnItsWayError):
        ask_to_post(season.organiser, parcel.id, cuthbert.household_id, NOW)
