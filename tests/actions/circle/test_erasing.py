"""Erasing: names, addresses, mail, telephone and places go from every table; counts stay."""

from dataclasses import replace
from datetime import date, timedelta

import pytest

from exchange.actions.circle.erasing import (
    ErasureRefusedError,
    erase,
    former_member,
    former_members,
)
from exchange.actions.circle.leaving import Farewell, leave
from exchange.actions.circle.page_season import season_page
from exchange.actions.kernel.actor import NotAllowedError
from exchange.actions.kernel.tasks import run_one
from exchange.actions.people.households import ContactTerms, set_contact
from exchange.actions.posting.parcels import Arrival, say_arrived, say_posted
from exchange.actions.posting.replan import replan
from exchange.actions.sharing.share_out import confirm_share_out, work_out_share_out
from exchange.domain.sharing.share_out import never_stop
from exchange.jobs.kinds import KINDS
from exchange.records import ALLOCATIONS, LETTERS, MEMBERS, PARCELS, PLACES, SHARE_OUTS, accounts
from tests.app_fixtures import (
    NOW,
    a_house,
    both_databases,
    fresh_database,
    mail_server,
    ring,
)
from tests.builders.breaking import dump
from tests.web.walk import HIDDEN, furnish

KNOWN = Farewell(known=True)
EARLIER, LATER = NOW - timedelta(days=2), NOW + timedelta(days=6)
PLANTED = (
    *HIDDEN, "Effie", "Trewhella", "effie.pellow@example.org", "Inverness",
)  # fmt: skip
"""What was told of Effie, and stands in no other name here."""


@pytest.fixture(params=both_databases)
def database(request, tmp_path):
    with fresh_database(request.param, tmp_path) as address:
        yield address


@pytest.fixture
def circle(tmp_path, database):
    with mail_server() as (post, _box), a_house(tmp_path / "house", database) as house:
        mailed = replace(house, mail=post, mail_from="circle@example.org", folder=tmp_path)
        made = ring(mailed)
        furnish(made)
        set_contact(
            made.actor("Effie"),
            ContactTerms("Effie", "Trewhella", "effie.pellow@example.org", HIDDEN[2], True),
            NOW,
        )
        _live(made)
        yield made


def _live(circle):
    """Share out, plan, post and let come, so that her name is in every kind of row."""
    organiser = circle.actor("Winnie")
    with circle.house.books.reading() as tx:
        (share_out,) = SHARE_OUTS.all(tx, circle.circle_id)
    work_out_share_out(organiser, share_out.id, never_stop, LATER)
    confirm_share_out(organiser, share_out.id, LATER)
    replan(organiser, LATER)
    with circle.house.books.reading() as tx:
        parcels = PARCELS.all(tx, circle.circle_id)
    for one in parcels:
        say_posted(organiser, one.id, LATER.date(), LATER)
        say_arrived(organiser, one.id, Arrival(LATER.date()), LATER)
    while run_one(circle.house, KINDS, lambda: LATER):
        pass


def found_in(circle, words=PLANTED):
    """Give each table in which a word still stands, with the words."""
    found = {}
    for table, rows in dump(circle.house.books).items():
        text = repr(rows)
        there = [word for word in words if word.lower() in text.lower()]
        if there:
            found[table] = there
    return found


def gone(circle):
    leave(circle.actor("Winnie"), circle["Effie"].id, LATER, KNOWN)
    erase(circle.actor("Winnie"), circle["Effie"].id, LATER)


def test_before_it_the_planted_words_are_found_in_many_tables(circle):
    planted = found_in(circle)

    assert {"account", "member", "household", "place", "letter", "deed", "diary_entry"} <= set(
        planted
    )
    assert {word for words in planted.values() for word in words} == set(PLANTED)


def test_nothing_planted_is_left_in_any_table(circle):
    gone(circle)

    assert found_in(circle) == {}


def test_what_was_given_and_received_still_counts(circle):
    before = season_page(circle.actor("Winnie"), None, LATER)
    with circle.house.books.reading() as tx:
        parcels = [(one.code, one.state) for one in PARCELS.all(tx, circle.circle_id)]
        given = [one.count for one in ALLOCATIONS.all(tx, circle.circle_id)]

    gone(circle)

    after = season_page(circle.actor("Winnie"), None, LATER)
    with circle.house.books.reading() as tx:
        assert [(one.code, one.state) for one in PARCELS.all(tx, circle.circle_id)] == parcels
        assert [one.count for one in ALLOCATIONS.all(tx, circle.circle_id)] == given
    assert after.total == before.total


def test_others_keep_their_names_letters_and_accounts(circle):
    gone(circle)
    with circle.house.books.reading() as tx:
        cuthbert = MEMBERS.get(tx, circle.circle_id, circle["Cuthbert"].id)
        letters = LETTERS.all(tx, circle.circle_id, member_id=circle["Winnie"].id)
        assert accounts.with_email(tx, "effie.pellow@example.org") is None
        assert accounts.with_email(tx, "cuthbert.pellow@example.org") is not None

    assert cuthbert.full_name == "Cuthbert Pellow"
    assert letters


def test_a_surname_and_a_town_that_others_share_stay(circle):
    gone(circle)

    assert "Pellow" in repr(dump(circle.house.books)["member"])
    assert "Penzance" in repr(dump(circle.house.books)["place"])


def test_who_is_here_or_erased_already_is_not_erased(circle):
    winnie = circle.actor("Winnie")
    with pytest.raises(ErasureRefusedError, match="still in the circle"):
        erase(winnie, circle["Effie"].id, NOW)
    gone(circle)

    with pytest.raises(ErasureRefusedError, match="Nothing is known"):
        erase(winnie, circle["Effie"].id, LATER)
    with pytest.raises(ErasureRefusedError):
        former_member(winnie, circle["Effie"].id)
    assert former_members(winnie) == ()


def test_leaving_and_being_erased_is_one_act(circle):
    leave(circle.actor("Effie"), circle["Effie"].id, LATER, Farewell(known=True, erase=True))

    assert found_in(circle) == {}


def test_only_the_organiser_erases(circle):
    leave(circle.actor("Winnie"), circle["Effie"].id, LATER, KNOWN)
    cuthbert = circle.actor("Cuthbert")

    for act in (
        lambda: former_members(cuthbert),
        lambda: former_member(cuthbert, circle["Effie"].id),
        lambda: erase(cuthbert, circle["Effie"].id, LATER),
    ):
        with pytest.raises(NotAllowedError):
            act()


def test_a_place_is_no_longer_anywhere(circle):
    gone(circle)
    with circle.house.books.reading() as tx:
        (place,) = PLACES.all(tx, circle.circle_id, household_id=circle["Effie"].household_id)

    assert (place.town, place.county, place.latitude, place.longitude) == ("", "", 0.0, 0.0)


def test_a_member_called_may_does_not_take_the_month_away(circle):
    with circle.house.books.writing() as tx:
        MEMBERS.change(tx, circle.circle_id, circle["Effie"].id, first_name="May")
        letter = LETTERS.all(tx, circle.circle_id, member_id=circle["Winnie"].id)[-1]
        tx._session.execute(
            LETTERS.table.__table__.update()
            .where(LETTERS.table.id == letter.id)
            .values(body="Post to May by Mon 3\u00a0May; in May or 17 May May’s parcel comes.")
        )

    gone(circle)

    with circle.house.books.reading() as tx:
        body = LETTERS.get(tx, circle.circle_id, letter.id).body
    assert body == (
        "Post to a former member by Mon 3\u00a0May; in May or 17 May a former member’s parcel comes."
    )
    assert date(2027, 5, 3)
