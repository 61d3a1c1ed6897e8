"""The page of parcels without a day: three kinds with three signs, and no strip of shut days."""

import re
from datetime import timedelta

import pytest

from exchange.actions.kernel.actor import member_actor
from exchange.actions.posting.page_no_day import no_day_page
from exchange.actions.posting.page_parcel import parcel_page
from exchange.domain.arriving.arrival import JourneyState
from exchange.records import MEMBERS, PARCELS, circles
from exchange.web.posting.no_day import KINDS, SHOWN
from exchange.words.kernel.chances import in_hundred
from exchange.words.kernel.dates import day
from tests.app_fixtures import NOW, Visitor
from tests.builders.demo import demo_site
from tests.builders.season import MONDAY, again, tell_weather


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
    assert "Waits for usual nights over" in text


def test_the_best_of_bad_days_is_taken_on_this_page_with_one_press(built):
    """Of each that waits what its plan offers, for those who send it and for the organiser."""
    here, _demo = built
    for name in ("Kenneth", "Winifred"):
        lines = page_of(built, name).in_state(JourneyState.WAITS)
        text = read(built, name)
        assert any(one.offered for one in lines)
        for one in lines:
            form = f'action="/parcels/{one.entry.id}/anyway"'
            assert (form in text) == (one.offered is not None)
            if one.offered:
                loss = in_hundred(one.offered.loss).replace("\u00a0", " ")
                assert f"{day(one.offered.day)}: {loss} such parcels".replace("\u00a0", " ") in text
                assert one.offered.day > here.clock.at.date()


def test_the_offer_pressed_here_is_the_parcels_day(season, both):
    here = both[0]
    with season.house.books.writing() as tx:
        circles.change(tx, season.circle_id, terms={"posting": {"loss_limit": 0.0001}})
    tell_weather(season, NOW, frost=tuple(MONDAY + timedelta(days=n) for n in range(16)))
    season.plan(NOW + timedelta(minutes=5))
    parcel = season.parcel_to("Effie")
    sender = Visitor(here, season.ring["Winnie"])
    form = re.search(
        rf'action="(/parcels/{parcel.id}/anyway)".*?name="day" value="([^"]+)".*?name="version" '
        r'value="([^"]+)"',
        sender.get("/parcels/without-a-day").text,
        re.DOTALL,
    )
    url, taken, version = form.groups()
    assert sender.post(url, {"day": taken, "version": version}).status_code == 303
    assert again(season, parcel).posting_day.isoformat() == taken


def test_what_is_not_ready_is_grouped_by_the_day_from_which_it_is_and_folded_where_there_is_much(
    built,
):
    page = page_of(built, "Winifred")
    groups = page.by_ready()
    ready = [day for day, _ in groups]
    assert ready == sorted(set(ready))
    assert {one.ready for day, lines in groups for one in lines if one.ready == day} == set(ready)
    lines = [one.entry.id for _, lines in groups for one in lines]
    assert sorted(lines) == sorted(one.entry.id for one in page.in_state(JourneyState.NOT_READY))
    assert len(lines) > SHOWN
    assert read(built, "Winifred").count("<details open") == 0
    few = next(
        name
        for name in ("Tamsin", "Ishbel", "Tomasz", "Joan")
        if 0 < len(page_of(built, name).in_state(JourneyState.NOT_READY)) <= SHOWN
    )
    assert read(built, few).count("<details open") == len(page_of(built, few).by_ready())


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
