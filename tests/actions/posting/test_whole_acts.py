"""What an act on posting writes stands or falls together: broken in the middle, it leaves nothing."""

from datetime import timedelta

import pytest

from exchange.actions.kernel.edits import EditedMeanwhileError
from exchange.actions.people.towns import TownWanted, find_town
from exchange.actions.posting.boxes import split_parcel
from exchange.actions.posting.calendars import CalendarKind, calendar_at, new_address
from exchange.actions.posting.change_day import agree_all, choose_way, move_day
from exchange.actions.posting.closures import close_day, open_holiday, take_closure_back
from exchange.actions.posting.late import say_late
from exchange.actions.posting.not_gone import say_not_gone
from exchange.actions.posting.pack_tonight import pack_tonight
from exchange.actions.posting.page_moving import moving_page
from exchange.actions.posting.parcels import (
    Arrival,
    not_arrived,
    not_posted,
    say_arrived,
    say_posted,
)
from exchange.actions.posting.postage import Postage, add_band, keep_postage, remove_band
from exchange.actions.posting.questions import ask_questions
from exchange.actions.posting.returned import CameBack, not_returned, say_returned
from exchange.actions.posting.route import go_straight, go_through
from exchange.actions.posting.somebody_else import ask_to_post, leave_to_sender, take_over
from exchange.actions.posting.ways import NewWay, WayTerms, add_way, change_way, way_page
from exchange.actions.sharing.allocation_answers import refuse_in_parcel
from exchange.domain.posting.way import Carriage
from exchange.records import (
    ALLOCATIONS,
    CLOSURES,
    PARCEL_LINES,
    WAYS,
    DatabaseBusyError,
    NotHereError,
    calendar_addresses,
)
from tests.app_fixtures import NOW, a_day
from tests.builders.breaking import BrokenError, break_at, dump
from tests.builders.season import MONDAY, again, morning, tell_weather
from tests.builders.season_kept import season_in_house

TUESDAY, NEXT_MONDAY = MONDAY + timedelta(days=1), MONDAY + timedelta(days=7)
LATER = morning(MONDAY + timedelta(days=2), 9)
LONG_AFTER, BACK = morning(MONDAY + timedelta(days=12), 9), CameBack(TUESDAY)
SHAP = find_town(TownWanted("Shap, Cumbria"))
TERMS = WayTerms(True, frozenset(range(5)), frozenset(range(6)), 15, 349)
CARRIER = NewWay("A carrier", "GB", True, (70, 20, 5, 5), TERMS)


@pytest.fixture
def season(kept, tmp_path):
    with season_in_house(kept, tmp_path) as made:
        yield made


def to_effie(season):
    return season.parcel_to("Effie").id


def effie(season):
    return season.ring.actor("Effie")


def by_post(season):
    with season.house.books.reading() as tx:
        return WAYS.all(tx, season.circle_id, carriage=Carriage.POST)[0].id


def a_closure(season):
    with season.house.books.reading() as tx:
        return CLOSURES.all(tx, season.circle_id)[0].id


def an_allocation(season):
    with season.house.books.reading() as tx:
        return PARCEL_LINES.all(tx, season.circle_id, parcel_id=to_effie(season))[0].allocation_id


def nothing(_season):
    """Nothing has to be there first."""


def posted(season):
    """Effie's parcel is on its way."""
    say_posted(season.organiser, to_effie(season), MONDAY, LATER)


def cuthbert_s(season):
    return season.ring["Cuthbert"].household_id


def two_plants(season):
    """There are two plants in Effie's parcel."""
    with season.house.books.writing() as tx:
        (row,) = PARCEL_LINES.all(tx, season.circle_id, parcel_id=to_effie(season))
        PARCEL_LINES.change(tx, season.circle_id, row.id, count=2)
        ALLOCATIONS.change(tx, season.circle_id, row.allocation_id, count=2)


ACTS = {
    "posted": (nothing, lambda it: say_posted(it.organiser, to_effie(it), MONDAY, LATER)),
    "not posted": (
        lambda it: say_posted(it.organiser, to_effie(it), MONDAY, LATER),
        lambda it: not_posted(it.organiser, to_effie(it), LATER),
    ),
    "came": (nothing, lambda it: say_arrived(effie(it), to_effie(it), Arrival(TUESDAY), LATER)),
    "not come": (
        lambda it: say_arrived(effie(it), to_effie(it), Arrival(TUESDAY), LATER),
        lambda it: not_arrived(effie(it), to_effie(it), LATER),
    ),
    "late": (nothing, lambda it: say_late(effie(it), to_effie(it), LONG_AFTER)),
    "came back": (posted, lambda it: say_returned(it.organiser, to_effie(it), BACK, LATER)),
    "not come back": (
        lambda it: [posted(it), say_returned(it.organiser, to_effie(it), BACK, LATER)],
        lambda it: not_returned(it.organiser, to_effie(it), LATER),
    ),
    "lost": (
        nothing,
        lambda it: say_arrived(effie(it), to_effie(it), Arrival(TUESDAY, lost=True), LATER),
    ),
    "not gone": (nothing, lambda it: say_not_gone(it.organiser, to_effie(it), None, LATER)),
    "moved": (nothing, lambda it: move_day(it.organiser, to_effie(it), NEXT_MONDAY, NOW)),
    "way chosen": (nothing, lambda it: choose_way(it.organiser, to_effie(it), by_post(it), NOW)),
    "agreed": (nothing, lambda it: agree_all(it.organiser, to_effie(it), NOW)),
    "cannot go": (
        nothing,
        lambda it: refuse_in_parcel(it.organiser, to_effie(it), an_allocation(it), NOW),
    ),
    "day closed": (
        nothing,
        lambda it: close_day(it.organiser, "GB", TUESDAY, "Shut for repairs", NOW),
    ),
    "holiday opened": (
        nothing,
        lambda it: open_holiday(it.organiser, "GB-ENG", a_day(3, 5), NOW),
    ),
    "closure taken back": (
        lambda it: close_day(it.organiser, "GB", TUESDAY, "Shut for repairs", NOW),
        lambda it: take_closure_back(it.organiser, a_closure(it), NOW),
    ),
    "way changed": (nothing, lambda it: change_way(it.organiser, by_post(it), TERMS, NOW)),
    "way added": (nothing, lambda it: add_way(it.organiser, CARRIER, NOW)),
    "goes through": (nothing, lambda it: go_through(it.organiser, by_post(it), SHAP, NOW)),
    "goes straight": (
        lambda it: go_through(it.organiser, by_post(it), SHAP, NOW),
        lambda it: go_straight(it.organiser, by_post(it), NOW),
    ),
    "postage": (
        nothing,
        lambda it: keep_postage(it.organiser, to_effie(it), Postage(349), LATER),
    ),
    "band added": (nothing, lambda it: add_band(it.organiser, "small parcel", 349, NOW)),
    "band removed": (
        lambda it: add_band(it.organiser, "small parcel", 349, NOW),
        lambda it: remove_band(it.organiser, 1, NOW),
    ),
    "put into two": (
        two_plants,
        lambda it: split_parcel(it.organiser, to_effie(it), {an_allocation(it): 1}, NOW),
    ),
    "somebody asked": (
        nothing,
        lambda it: ask_to_post(it.organiser, to_effie(it), cuthbert_s(it), NOW),
    ),
    "taken over": (
        lambda it: ask_to_post(it.organiser, to_effie(it), cuthbert_s(it), NOW),
        lambda it: take_over(it.organiser, to_effie(it), NOW),
    ),
    "left to the sender": (
        lambda it: ask_to_post(it.organiser, to_effie(it), cuthbert_s(it), NOW),
        lambda it: leave_to_sender(it.ring.actor("Cuthbert"), to_effie(it), NOW),
    ),
    "address made": (nothing, lambda it: new_address(effie(it), CalendarKind.MEMBER, NOW)),
    "questions asked": (nothing, lambda it: ask_questions(it.clock, LATER)),
}

STEPS = [
    ("posted", "posting.parcels.note"),
    ("posted", "posting.parcels.rewrite"),
    ("not posted", "posting.parcels.rewrite"),
    ("came", "posting.parcels.note"),
    ("came", "posting.parcels.rewrite"),
    ("not come", "posting.parcels.rewrite"),
    ("lost", "posting.missing.ask"),
    ("lost", "posting.missing.write_to"),
    ("late", "posting.late.note"),
    ("late", "posting.late.write_to"),
    ("came back", "posting.returned.gather"),
    ("came back", "posting.returned.write_to"),
    ("came back", "posting.returned.ask"),
    ("not come back", "posting.returned.gather"),
    ("not come back", "posting.returned.ask"),
    ("put into two", "posting.boxes.gather"),
    ("put into two", "posting.boxes.ask"),
    ("somebody asked", "posting.somebody_else.write_to"),
    ("somebody asked", "posting.somebody_else.ask"),
    ("taken over", "posting.somebody_else.rewrite"),
    ("taken over", "posting.somebody_else.write_to"),
    ("left to the sender", "posting.somebody_else.write_to"),
    ("left to the sender", "posting.somebody_else.ask"),
    ("postage", "posting.postage.note"),
    ("band added", "posting.postage.note"),
    ("band removed", "posting.postage.note"),
    ("not gone", "posting.not_gone.rewrite"),
    ("not gone", "posting.not_gone.ask"),
    ("moved", "posting.change_day.note"),
    ("moved", "posting.change_day.rewrite"),
    ("moved", "posting.change_day.write_to"),
    ("way chosen", "posting.change_day.ask"),
    ("agreed", "posting.change_day.note"),
    ("cannot go", "sharing.allocation_answers.note"),
    ("cannot go", "sharing.allocation_answers.ask_reserve"),
    ("day closed", "posting.closures.note"),
    ("day closed", "posting.closures.ask"),
    ("holiday opened", "posting.closures.ask"),
    ("closure taken back", "posting.closures.ask"),
    ("way changed", "posting.ways.note"),
    ("way changed", "posting.ways.ask"),
    ("way added", "posting.ways.ask"),
    ("goes through", "posting.route.note"),
    ("goes through", "posting.route.ask"),
    ("goes straight", "posting.route.ask"),
    ("address made", "posting.calendars.note"),
    ("questions asked", "posting.questions.write"),
]


@pytest.mark.parametrize(("act", "step"), STEPS)
def test_an_act_that_breaks_in_the_middle_leaves_nothing(season, monkeypatch, act, step):
    first, pressed = ACTS[act]
    first(season)
    before = dump(season.house.books)

    with monkeypatch.context() as patch:
        break_at(patch, f"exchange.actions.{step}")
        with pytest.raises(BrokenError):
            pressed(season)

    assert dump(season.house.books) == before
    pressed(season)
    assert dump(season.house.books) != before


def test_a_plan_is_not_kept_without_the_word_to_pack(season, monkeypatch):
    later = NOW + timedelta(hours=1)
    tell_weather(season, later, frost=(MONDAY + timedelta(days=10),))
    before = dump(season.house.books)

    with monkeypatch.context() as patch:
        break_at(patch, "exchange.actions.posting.pack_tonight.write_to")
        with pytest.raises(BrokenError):
            pack_tonight(season.clock, later)

    assert dump(season.house.books) == before
    season.plan(later)
    assert dump(season.house.books) != before, "there was a plan to be kept"


def test_a_calendar_is_given_though_its_fetch_cannot_be_noted(season, monkeypatch):
    address = new_address(effie(season), CalendarKind.MEMBER, NOW).address
    secret = address.split("/")[-2]

    def busy(*_args):
        raise DatabaseBusyError("Somebody else is writing; please try again.")

    monkeypatch.setattr(calendar_addresses, "note_fetch", busy)

    assert calendar_at(season.house, secret, "Thunderbird", NOW) is not None


def test_plants_of_another_parcel_are_not_refused_by_this_ones_page(season):
    other = season.parcel_to("Cuthbert").id
    before = dump(season.house.books)

    with pytest.raises(NotHereError):
        refuse_in_parcel(season.organiser, other, an_allocation(season), NOW)

    assert dump(season.house.books) == before


def test_a_day_moved_meanwhile_is_not_moved_again_unseen(season):
    parcel_id = to_effie(season)
    page = moving_page(season.organiser, parcel_id, NEXT_MONDAY, NOW, fresh=True)
    assert page.change is not None
    move_day(season.organiser, parcel_id, TUESDAY, NOW)

    with pytest.raises(EditedMeanwhileError) as refused:
        move_day(season.organiser, parcel_id, NEXT_MONDAY, NOW, opened=page.version)

    assert again(season, season.parcel_to("Effie")).posting_day == TUESDAY
    move_day(season.organiser, parcel_id, NEXT_MONDAY, NOW, opened=refused.value.version)
    assert again(season, season.parcel_to("Effie")).posting_day == NEXT_MONDAY


def test_a_new_route_does_not_stand_in_the_way_of_a_new_postage(season):
    way_id = by_post(season)
    opened = way_page(season.organiser, way_id).version
    go_through(season.organiser, way_id, SHAP, NOW)

    assert change_way(season.organiser, way_id, TERMS, NOW, opened=opened)
