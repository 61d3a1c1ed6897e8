"""Moving a parcel to another day, fixing its way, the sender's yes."""

from datetime import timedelta

import pytest

from exchange.actions.home.chores import ChoreKind
from exchange.actions.home.page_todo import todo_page
from exchange.actions.kernel.actor import NotAllowedError
from exchange.actions.posting.change_day import (
    NothingAskedError,
    agree_all,
    ask_to_plan,
    choose_way,
    keep_day,
    move_day,
)
from exchange.actions.posting.other_day import OverLimitError, change_of
from exchange.actions.posting.parcels import (
    AlreadyOnItsWayError,
    DayRefusedError,
    plan_of,
    say_posted,
)
from exchange.domain.posting.announced import Ground
from exchange.domain.posting.reasons import DayWord
from exchange.domain.posting.way import Carriage
from exchange.domain.sharing.states import AllocationState
from exchange.records import ALLOCATIONS, DIARY, LETTERS, TASKS, WAYS
from exchange.records.rows.running import TaskState
from tests.app_fixtures import NOW
from tests.builders.season import MONDAY, again, tell_weather

TUESDAY, SUNDAY = MONDAY + timedelta(days=1), MONDAY + timedelta(days=6)


def other_day(parcel):
    """Give a day of the strip that would do as well."""
    return next(one.day for one in plan_of(parcel).strip if one.word is DayWord.GOOD)


def test_a_move_is_kept_by_the_next_plan_and_both_ends_are_told(season, parcel):
    day = other_day(parcel)
    move_day(season.organiser, parcel.id, day, NOW)
    moved = again(season, parcel)
    assert (moved.posting_day, moved.announced_day) == (day, day)
    assert moved.arrival_from > day

    season.plan(NOW + timedelta(minutes=5))
    assert again(season, parcel).posting_day == day
    with season.house.books.reading() as tx:
        told = LETTERS.all(tx, season.circle_id, kind="moved")
        posting = DIARY.all(tx, season.circle_id, parcel_id=parcel.id, kind="posting")
    assert {one.member_id for one in told} == {season.ring[n].id for n in ("Winnie", "Effie")}
    assert {one.first_day for one in posting} == {day}


def frost_on(season, day, now):
    tell_weather(season, now, frost=tuple(day + timedelta(days=n) for n in range(3)))
    season.plan(now)


def asking(season):
    with season.house.books.reading() as tx:
        return LETTERS.all(tx, season.circle_id, kind="day_asked")


def test_a_day_that_a_person_chose_stays_and_that_person_alone_is_asked_once(season, parcel):
    day = other_day(parcel)
    move_day(season.ring.actor("Winnie"), parcel.id, day, NOW)
    for hours in (1, 2):
        frost_on(season, day, NOW + timedelta(hours=hours))

    stays = again(season, parcel)
    assert (stays.posting_day, stays.announced_day) == (day, day)
    assert (stays.question, stays.day_kept) == (Ground.RISKIER, False)
    assert stays.proposed_day not in (None, day)
    assert [one.member_id for one in asking(season)] == [season.ring["Winnie"].id]
    assert "You chose that day" in asking(season)[0].body
    chores = todo_page(season.ring.actor("Winnie"), NOW).chores
    assert [one.target_id for one in chores if one.kind is ChoreKind.DAY_ASKED] == [parcel.id]
    others = todo_page(season.ring.actor("Effie"), NOW).chores
    assert ChoreKind.DAY_ASKED not in {one.kind for one in others}


def test_a_day_that_is_kept_is_asked_about_again_only_once_it_is_worse(season, parcel):
    day = other_day(parcel)
    move_day(season.ring.actor("Winnie"), parcel.id, day, NOW)
    frost_on(season, day, NOW + timedelta(hours=1))
    keep_day(season.ring.actor("Winnie"), parcel.id, NOW + timedelta(hours=2))
    frost_on(season, day, NOW + timedelta(hours=3))

    kept = again(season, parcel)
    assert kept.posting_day == day
    assert kept.question is None or kept.day_kept
    assert len(asking(season)) == 1
    with pytest.raises(NothingAskedError):
        keep_day(season.ring.actor("Winnie"), parcel.id, NOW + timedelta(hours=4))


def test_the_question_is_answered_by_moving_and_stands_no_longer(season, parcel):
    day = other_day(parcel)
    move_day(season.ring.actor("Winnie"), parcel.id, day, NOW)
    frost_on(season, day, NOW + timedelta(hours=1))
    proposed = again(season, parcel).proposed_day
    move_day(season.ring.actor("Winnie"), parcel.id, proposed, NOW + timedelta(hours=2))

    moved = again(season, parcel)
    assert (moved.posting_day, moved.question, moved.proposed_day) == (proposed, None, None)
    assert moved.day_chosen_by == season.ring["Winnie"].id


def test_page_and_plan_tell_the_new_day_at_once(season, parcel):
    day = other_day(parcel)
    move_day(season.organiser, parcel.id, day, NOW)
    moved = again(season, parcel)
    plan = plan_of(moved)
    assert (plan.day, plan.held, plan.moved) == (day, False, None)
    assert [one.day for one in plan.strip if one.chosen] == [day]
    assert [one.day for one in plan.strip if one.word is DayWord.POST] == [day]
    assert moved.reasons[0].startswith("Post on ")


def test_moving_to_the_day_it_has_changes_nothing(season, parcel):
    move_day(season.organiser, parcel.id, parcel.announced_day, NOW)
    assert again(season, parcel) == parcel


def test_a_day_on_which_nothing_goes_is_refused_with_its_reason(season, parcel):
    with pytest.raises(DayRefusedError, match="takes nothing in"):
        move_day(season.organiser, parcel.id, SUNDAY, NOW)
    with pytest.raises(DayRefusedError):
        move_day(season.organiser, parcel.id, MONDAY + timedelta(days=90), NOW)
    assert again(season, parcel) == parcel


def test_a_day_in_frost_is_refused_with_how_it_goes_then_all_the_same(season, parcel):
    tell_weather(season, NOW, frost=(TUESDAY, TUESDAY + timedelta(days=1)))
    season.plan(NOW + timedelta(minutes=5))
    frosty = next(
        one.day
        for one in plan_of(again(season, parcel)).strip
        if one.word in (DayWord.FROST_HERE, DayWord.FROST_THERE)
    )
    with pytest.raises(OverLimitError, match=r"frost at the .* has it go all the same"):
        move_day(season.organiser, parcel.id, frosty, NOW)


def test_looking_at_a_move_changes_nothing(season, parcel):
    with season.house.books.reading() as tx:
        change = change_of(tx, season.organiser, parcel, other_day(parcel))
    assert change.before.day == parcel.posting_day
    assert change.after.day == other_day(parcel)
    assert again(season, parcel) == parcel


def test_a_posted_parcel_is_not_moved_nor_its_way_changed(season, parcel):
    say_posted(season.organiser, parcel.id, MONDAY, NOW)
    with pytest.raises(AlreadyOnItsWayError):
        move_day(season.organiser, parcel.id, TUESDAY, NOW)
    with pytest.raises(AlreadyOnItsWayError):
        choose_way(season.organiser, parcel.id, None, NOW)


def test_the_receiver_moves_nothing(season, parcel):
    effie = season.ring.actor("Effie")
    for act in (
        lambda: move_day(effie, parcel.id, TUESDAY, NOW),
        lambda: choose_way(effie, parcel.id, None, NOW),
        lambda: agree_all(effie, parcel.id, NOW),
        lambda: ask_to_plan(effie, "plan", NOW),
    ):
        with pytest.raises(NotAllowedError):
            act()


def test_a_way_by_hand_is_followed_by_the_next_plan(season, parcel):
    with season.house.books.reading() as tx:
        by_hand = WAYS.find(tx, season.circle_id, carriage=Carriage.BY_HAND)
    choose_way(season.organiser, parcel.id, by_hand.id, NOW)
    with season.house.books.reading() as tx:
        assert TASKS.find(tx, season.circle_id, kind="plan", state=TaskState.WAITING) is not None
    season.plan(NOW + timedelta(minutes=5))
    assert again(season, parcel).way_id == by_hand.id


def test_yes_to_a_parcel_is_yes_to_all_in_it_once(season, parcel):
    assert agree_all(season.organiser, parcel.id, NOW) == 1
    assert agree_all(season.organiser, parcel.id, NOW) == 0
    with season.house.books.reading() as tx:
        states = sorted(one.state for one in ALLOCATIONS.all(tx, season.circle_id))
    assert states == [AllocationState.AGREED, AllocationState.CONFIRMED]
