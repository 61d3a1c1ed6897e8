"""Slip, page and plan of the demo's parcels say one thing about when to wait."""

import re
from datetime import timedelta
from itertools import chain

import pytest

from exchange.actions.posting.papers import all_papers
from exchange.actions.posting.parcels import plan_of
from exchange.actions.posting.plan_facts import facts_of
from exchange.records import MEMBERS, PARCELS
from exchange.words.posting.posting_days import wait_mark, wait_rule
from tests.app_fixtures import Visitor
from tests.builders.demo import demo_site


@pytest.fixture(scope="module")
def demo(tmp_path_factory):
    with demo_site(tmp_path_factory.mktemp("demo")) as made:
        yield made


@pytest.fixture(scope="module")
def planned(demo):
    """Give each parcel with its plan, as recorded."""
    here, built = demo
    with here.house.books.reading() as tx:
        entries = PARCELS.all(tx, built.settled.circle_id)
    return [(one, plan_of(one)) for one in entries]


def test_the_slip_says_what_the_plan_says(demo, planned):
    _here, built = demo
    papers = {one.id: made for one, made in all_papers(built.settled.organiser, built.data.now)}

    assert len(papers) > 50
    for entry, plan in planned:
        by_hand = papers[entry.id].facts.going.by_hand
        rule = wait_rule(plan.warn_at_c, by_hand=by_hand)
        assert papers[entry.id].slip.weather[0] == rule, entry.code


def test_the_page_says_what_the_plan_says(demo, planned):
    here, built = demo
    with here.house.books.reading() as tx:
        member = MEMBERS.find(tx, built.settled.circle_id, first_name="Winifred")
    winifred = Visitor(here, member)

    marks = set()
    for entry, plan in planned[::3]:
        page = winifred.get(f"/parcels/{entry.id}").text
        assert wait_rule(plan.warn_at_c) in page, entry.code
        drawn = set(re.findall(r"at [^<>&]{1,12} or less, wait", page))
        assert drawn <= {wait_mark(plan.warn_at_c)}, entry.code
        marks |= drawn
    assert marks


def test_no_parcel_is_to_go_while_its_slip_says_wait(demo, planned):
    """Both ends' expected minima, from the night of posting to the first day it may come."""
    here, built = demo
    with here.house.books.reading() as tx:
        outlooks = facts_of(tx, built.settled.circle_id, built.data.now).outlooks
    going = [(entry, plan) for entry, plan in planned if plan.day is not None]

    assert len(going) > 30
    for entry, plan in going:
        days = range(max(1, (plan.arrival_from - plan.day).days))
        nights = chain.from_iterable(
            (outlooks[place].night(plan.day + timedelta(days=n)).mean_c for n in days)
            for place in (entry.sender_place_id, entry.receiver_place_id)
        )
        assert min(nights) > plan.warn_at_c, entry.code
