"""A parcel put into two, and two put into one: plants, codes and days stay what they were."""

from datetime import timedelta

import pytest

from exchange.actions.kernel.actor import NotAllowedError
from exchange.actions.posting.boxes import (
    NotTwoParcelsError,
    StayApartError,
    bundle_parcels,
    split_parcel,
)
from exchange.actions.posting.page_boxes import boxes_page
from exchange.actions.posting.parcels import AlreadyOnItsWayError, say_posted
from exchange.domain.posting.bundling import Apart
from exchange.records import PARCEL_LINES, PARCELS
from tests.app_fixtures import NOW, a_house
from tests.builders.season import MONDAY, a_season, again, announce, morning


@pytest.fixture
def three(tmp_path):
    """Three plants of one spare for Effie, announced for Monday."""
    with a_house(tmp_path) as house:
        season = a_season(house, claimants=("Effie",), asked=3, count=3)
        announce(season)
        yield season


@pytest.fixture
def parcel(three):
    return three.parcel_to("Effie")


def inside(season, parcel_id):
    with season.house.books.reading() as tx:
        rows = PARCEL_LINES.all(tx, season.circle_id, parcel_id=parcel_id)
    return {row.allocation_id: row.count for row in rows}


def the_kind(season, parcel):
    return next(iter(inside(season, parcel.id)))


def split(season, parcel, count):
    return split_parcel(season.organiser, parcel.id, {the_kind(season, parcel): count}, NOW)


def plants(season):
    return sorted(sum(inside(season, one.id).values()) for one in season.parcels())


def test_some_go_into_a_second_parcel_and_the_first_keeps_code_and_day(three, parcel):
    second_id = split(three, parcel, 1)

    assert plants(three) == [1, 2]
    first = again(three, parcel)
    assert (first.code, first.announced_day) == (parcel.code, MONDAY)
    with three.house.books.reading() as tx:
        second = PARCELS.get(tx, three.circle_id, second_id)
    assert second.code != first.code
    assert second.announced_day is None


def test_planning_again_leaves_them_apart(three, parcel):
    split(three, parcel, 1)
    three.plan()

    assert plants(three) == [1, 2]


def test_with_one_posted_the_other_keeps_its_plants(three, parcel):
    second_id = split(three, parcel, 1)
    say_posted(three.organiser, parcel.id, MONDAY, morning(MONDAY, 17))
    three.plan()

    assert sum(inside(three, second_id).values()) == 1
    assert plants(three) == [1, 2]


def test_put_in_again_there_is_one_parcel_as_before(three, parcel):
    second_id = split(three, parcel, 2)
    bundle_parcels(three.organiser, parcel.id, second_id, NOW)
    three.plan()

    (only,) = three.parcels()
    assert (only.id, only.code) == (parcel.id, parcel.code)
    assert plants(three) == [3]


@pytest.mark.parametrize("count", [0, 3, 4, -1])
def test_nothing_everything_or_too_many_is_refused(three, parcel, count):
    with pytest.raises(NotTwoParcelsError):
        split(three, parcel, count)
    assert plants(three) == [3]


def test_what_is_not_in_it_is_not_moved(three, parcel):
    with pytest.raises(NotTwoParcelsError):
        split_parcel(three.organiser, parcel.id, {999: 1}, NOW)


def test_a_day_that_was_told_is_not_swallowed(three, parcel):
    second_id = split(three, parcel, 1)

    (other,) = boxes_page(three.organiser, second_id, NOW).others
    assert other.why_apart is Apart.TOLD
    with pytest.raises(StayApartError):
        bundle_parcels(three.organiser, second_id, parcel.id, NOW)
    assert plants(three) == [1, 2]


def test_parcels_to_others_stay_apart(season):
    to_effie, to_cuthbert = season.parcel_to("Effie"), season.parcel_to("Cuthbert")

    assert boxes_page(season.organiser, to_effie.id, NOW).others == ()
    with pytest.raises(StayApartError):
        bundle_parcels(season.organiser, to_effie.id, to_cuthbert.id, NOW)
    with pytest.raises(StayApartError):
        bundle_parcels(season.organiser, to_effie.id, to_effie.id, NOW)


def test_receivers_and_what_has_gone_are_left_alone(three, parcel):
    with pytest.raises(NotAllowedError):
        split_parcel(three.ring.actor("Effie"), parcel.id, {the_kind(three, parcel): 1}, NOW)
    say_posted(three.organiser, parcel.id, MONDAY, morning(MONDAY + timedelta(hours=0), 17))
    with pytest.raises(AlreadyOnItsWayError):
        split(three, parcel, 1)
