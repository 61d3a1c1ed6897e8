"""The season report counts what happened, says of how many it was heard, and names nobody."""

from datetime import timedelta

import pytest

from exchange.actions.circle.page_season import season_page
from exchange.actions.growing.batches import count_batch
from exchange.actions.posting.parcels import Arrival, say_arrived, say_posted
from exchange.actions.sharing.claims import NewClaim, claim
from exchange.actions.sharing.old_claims import look_at_old_claims
from exchange.domain.arriving.arrival import Condition
from exchange.domain.arriving.season_tally import Tally
from exchange.domain.circle.circle_season import CircleSeason
from exchange.records import BATCHES, PARCEL_LINES, PARCELS, VARIETIES
from tests.app_fixtures import NOW, a_house, ring
from tests.web.walk import furnish

GOES, COMES = NOW + timedelta(days=8), NOW + timedelta(days=10)


@pytest.fixture
def circle(tmp_path):
    with a_house(tmp_path) as house:
        made = ring(house)
        furnish(made)
        yield made


@pytest.fixture
def parcel(circle):
    with circle.house.books.reading() as tx:
        (found,) = PARCELS.all(tx, circle.circle_id)
    return found


def report(circle, now=COMES, year=None):
    return season_page(circle.actor("Effie"), year, now)


def gone(circle, parcel):
    say_posted(circle.actor("Winnie"), parcel.id, GOES.date(), GOES)


def came(circle, parcel, **how):
    gone(circle, parcel)
    say_arrived(circle.actor("Effie"), parcel.id, Arrival(COMES.date(), **how), COMES)


def test_before_anything_went_it_is_empty(circle):
    assert report(circle).total == Tally()
    assert report(circle).weeks == ()


def test_a_parcel_on_its_way_went_and_was_not_heard_of(circle, parcel):
    gone(circle, parcel)

    assert report(circle).total == Tally(parcels=1)


def test_plants_that_came_well_are_alive_by_way_weekday_and_packing(circle, parcel):
    came(circle, parcel)
    found = report(circle)
    one = Tally(parcels=1, heard=1, plants=2, alive=2)

    assert found.total == one
    assert [tally for _name, tally in found.by_way] == [one]
    assert found.by_weekday == (("Tue", one),)
    assert [tally for _name, tally in found.by_packing] == [one]
    assert found.living == 2


@pytest.mark.parametrize("how", [{"lost": True}, {"condition": Condition.DEAD}])
def test_what_was_lost_or_came_dead_was_heard_of_and_does_not_live(circle, parcel, how):
    came(circle, parcel, **how)

    assert report(circle).total == Tally(parcels=1, heard=1, plants=2, alive=0)


def test_what_died_later_came_alive_and_lives_no_more(circle, parcel):
    came(circle, parcel)
    effie = circle.actor("Effie")
    with circle.house.books.reading() as tx:
        (batch,) = BATCHES.all(tx, circle.circle_id, origin=f"parcel {parcel.code}")
    count_batch(effie, batch.id, 1, COMES)

    assert (report(circle).total.alive, report(circle).living) == (2, 1)


def test_another_season_holds_none_of_it(circle, parcel):
    came(circle, parcel)
    later = report(circle, COMES + timedelta(days=200))

    assert later.season == CircleSeason(2027)
    assert later.total == Tally()
    assert later.seasons == (CircleSeason(2027), CircleSeason(2026))
    assert report(circle, COMES + timedelta(days=200), 2026).total.parcels == 1


def test_wishes_that_were_not_met_are_named_by_variety(circle):
    with circle.house.books.reading() as tx:
        ferry = VARIETIES.find(tx, circle.circle_id, folded="ferry light")
    claim(circle.actor("Cuthbert"), NewClaim(ferry.id, 2), NOW)
    wishes = report(circle).wishes

    assert (wishes.made, wishes.met, wishes.part) == (2, 0, 0)
    assert [(variety.name, count) for variety, count in wishes.unmet] == [("Ferry Light", 3)]


def test_a_wish_that_lapsed_unanswered_was_still_made_in_vain(circle):
    clock = circle.actor("Winnie")
    asked, late = NOW + timedelta(days=280), NOW + timedelta(days=330)
    look_at_old_claims(clock, asked)
    with circle.house.books.writing() as tx:
        from exchange.domain.sharing.states import ShareOutState
        from exchange.records import SHARE_OUTS

        for one in SHARE_OUTS.all(tx, circle.circle_id):
            SHARE_OUTS.change(tx, circle.circle_id, one.id, state=ShareOutState.CANCELLED)
    look_at_old_claims(clock, late)

    assert report(circle, late, 2026).wishes.made == 1


def test_it_names_nobody_and_no_place(circle, parcel):
    came(circle, parcel)
    with circle.house.books.reading() as tx:
        lines = PARCEL_LINES.all(tx, circle.circle_id)
    told = repr(report(circle))

    assert lines
    for name in ("Effie", "Winnie", "Cuthbert", "Pellow", "Inverness", "Hidden Lane", parcel.code):
        assert name not in told
