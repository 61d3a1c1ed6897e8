"""The page of parcels without a day: three kinds with three signs, and no strip of shut days."""

import pytest

from exchange.actions.kernel.actor import member_actor
from exchange.actions.posting.page_no_day import no_day_page
from exchange.actions.posting.page_parcel import parcel_page
from exchange.domain.arriving.arrival import JourneyState
from exchange.records import MEMBERS, PARCELS
from exchange.web.posting.no_day import KINDS
from tests.app_fixtures import Visitor
from tests.builders.demo import demo_site


@pytest.fixture(scope="module")
def built(tmp_path_factory):
    with demo_site(tmp_path_factory.mktemp("no-day")) as made:
        yield made


def member(built, first_name):
    here, demo = built
    with here.house.books.reading() as tx:
        return MEMBERS.find(tx, demo.settled.circle_id, first_name=first_name)


def read(built, first_name, path="/parcels/without-a-day"):
    text = Visitor(built[0], member(built, first_name)).get(path).text
    return text.replace("\u00a0", " ")


def page_of(built, first_name):
    here, demo = built
    actor = member_actor(here.house, demo.settled.circle_id, member(built, first_name).id)
    return no_day_page(actor, here.clock.at)


def test_three_kinds_stand_apart_each_under_its_own_sign():
    assert len({kind[1] for kind in KINDS}) == len({kind[2] for kind in KINDS}) == 3
    assert [kind[0] for kind in KINDS] == [
        JourneyState.NO_WAY,
        JourneyState.WAITS,
        JourneyState.NOT_READY,
    ]


def test_the_organiser_sees_every_parcel_without_a_day_counted_as_recorded(built):
    here, demo = built
    page = page_of(built, "Winifred")
    with here.house.books.reading() as tx:
        recorded = [
            one for one in PARCELS.all(tx, demo.settled.circle_id) if one.posting_day is None
        ]
    assert {one.entry.id for one in page.lines} == {one.id for one in recorded}
    text = read(built, "Winifred")
    for kind in KINDS:
        assert (kind[2] in text) == bool(page.in_state(kind[0]))
    assert 'class="day ' not in text


def test_a_member_sees_only_what_they_are_to_send(built):
    page = page_of(built, "Kenneth")
    assert page.lines
    assert all(one.is_own for one in page.lines)
    assert "Decide what to do" not in read(built, "Kenneth")


def test_what_waits_for_warmth_names_its_first_good_week_on_a_label(built):
    """The label stands at the first week from which it is warm enough, as the sentence says."""
    line = next(one for one in page_of(built, "Kenneth").lines if one.warmth)
    weeks = [week.monday for week in line.warmth.weeks]
    assert line.warmth.warm_from in weeks
    assert weeks == sorted(weeks)
    cold = [week for week in line.warmth.weeks if week.monday < line.warmth.warm_from]
    assert min(week.night.mean_c for week in line.warmth.weeks) == cold[0].night.mean_c
    text = read(built, "Kenneth")
    assert "about here" in text
    assert "Waits for nights over" in text


def test_a_parcel_that_is_not_ready_has_no_strip_of_days_all_alike(built):
    here, _demo = built
    line = next(
        one
        for one in page_of(built, "Winifred").in_state(JourneyState.NOT_READY)
        if one.ready > here.clock.at.date().replace(month=5, day=1)
    )
    text = read(built, "Winifred", f"/parcels/{line.entry.id}")
    assert 'class="day ' not in text
    assert text.lower().count("not ready yet") <= 2


def test_the_page_of_a_parcel_that_waits_shows_the_same_weeks(built):
    here, demo = built
    line = next(one for one in page_of(built, "Kenneth").lines if one.warmth)
    actor = member_actor(here.house, demo.settled.circle_id, member(built, "Kenneth").id)
    page = parcel_page(actor, line.entry.id, here.clock.at, fresh=True)
    assert page.warmth == line.warmth
