"""What parcels cost is kept, added up by household, and never mixed with what is not known."""

from datetime import timedelta

import pytest

from exchange.actions.circle.page_season import season_page
from exchange.actions.kernel.actor import NotAllowedError
from exchange.actions.kernel.edits import EditedMeanwhileError
from exchange.actions.posting.change_day import choose_way
from exchange.actions.posting.page_postage import parcel_postage, postage_page
from exchange.actions.posting.parcels import say_posted
from exchange.actions.posting.postage import (
    MOST_BANDS,
    Postage,
    PostageRefusedError,
    add_band,
    keep_postage,
    remove_band,
)
from exchange.actions.posting.ways import MOST_POSTAGE
from exchange.domain.posting.postage import PostageTotal
from exchange.domain.posting.way import Carriage
from exchange.records import PARCELS, TARIFF_BANDS, WAYS
from tests.app_fixtures import NOW
from tests.builders.season import MONDAY, again, morning

LATER = morning(MONDAY + timedelta(days=1), 17)


@pytest.fixture
def sent(season, parcel):
    say_posted(season.organiser, parcel.id, MONDAY, LATER)
    return parcel


def bands(season):
    with season.house.books.reading() as tx:
        return [(one.name, one.price) for one in TARIFF_BANDS.all(tx, season.circle_id)]


def test_what_a_parcel_cost_and_whether_it_was_paid_back_is_kept(season, sent):
    keep_postage(season.organiser, sent.id, Postage(349), LATER)
    keep_postage(season.organiser, sent.id, Postage(349, repaid=True), LATER)

    found = again(season, sent)
    assert (found.postage, found.postage_repaid) == (349, True)


def test_a_season_is_added_up_by_household_and_unknown_is_not_nothing(season, sent):
    keep_postage(season.organiser, sent.id, Postage(349), LATER)
    other = season.parcel_to("Cuthbert")
    say_posted(season.organiser, other.id, MONDAY, LATER)

    page = postage_page(season.organiser, None, LATER)
    (winnie,) = page.households
    assert winnie.names == "Winnie"
    assert winnie.total == PostageTotal(parcels=2, told=1, paid=349, repaid=0)
    assert postage_page(season.organiser, 2019, LATER).total == PostageTotal()


def test_a_member_sees_what_it_posted_itself_and_nobody_elses(season, sent):
    keep_postage(season.organiser, sent.id, Postage(349), LATER)

    page = postage_page(season.ring.actor("Effie"), None, LATER)
    assert page.households == ()
    assert page.total == PostageTotal()


def test_the_season_report_names_the_sum(season, sent):
    keep_postage(season.organiser, sent.id, Postage(210, repaid=True), LATER)

    page = season_page(season.ring.actor("Effie"), None, LATER)
    assert (page.postage.paid, page.postage.repaid) == (210, 210)


def test_what_goes_by_hand_is_not_posted_and_costs_nothing(season, parcel):
    with season.house.books.writing() as tx:
        by_hand = WAYS.all(tx, season.circle_id, carriage=Carriage.BY_HAND)[0].id
    choose_way(season.organiser, parcel.id, by_hand, NOW)
    season.plan()
    say_posted(season.organiser, parcel.id, MONDAY, LATER)
    with season.house.books.writing() as tx:
        PARCELS.change(tx, season.circle_id, parcel.id, way_id=by_hand)

    with pytest.raises(PostageRefusedError):
        keep_postage(season.organiser, parcel.id, Postage(349), LATER)
    assert postage_page(season.organiser, None, LATER).total.parcels == 1


@pytest.mark.parametrize("said", [Postage(-1), Postage(MOST_POSTAGE + 1), Postage(None, True)])
def test_sums_that_are_not_believed_are_refused(season, sent, said):
    with pytest.raises(PostageRefusedError):
        keep_postage(season.organiser, sent.id, said, LATER)
    assert again(season, sent).postage is None


def test_only_sender_and_organiser_say_what_it_cost(season, sent):
    for name in ("Effie", "Cuthbert"):
        with pytest.raises(NotAllowedError):
            keep_postage(season.ring.actor(name), sent.id, Postage(349), LATER)
        with pytest.raises(NotAllowedError):
            parcel_postage(season.ring.actor(name), sent.id, LATER)


def test_of_two_edits_the_second_hears_of_the_first(season, sent):
    opened = parcel_postage(season.organiser, sent.id, LATER).version
    keep_postage(season.organiser, sent.id, Postage(349), LATER, opened)

    with pytest.raises(EditedMeanwhileError):
        keep_postage(season.organiser, sent.id, Postage(400), LATER, opened)
    assert again(season, sent).postage == 349


def test_the_tariff_is_the_organisers_in_their_own_words(season):
    add_band(season.organiser, "small parcel  up to 2 kg", 420, NOW)
    first = add_band(season.organiser, "large letter", 155, NOW)

    assert bands(season) == [("large letter", 155), ("small parcel up to 2 kg", 420)]
    remove_band(season.organiser, first, NOW)
    assert bands(season) == [("small parcel up to 2 kg", 420)]


@pytest.mark.parametrize(
    ("name", "price", "field"),
    [
        ("", 100, "name"),
        ("x" * 61, 100, "name"),
        ("Large Letter", 1, "name"),
        ("box", -1, "price"),
        ("box", MOST_POSTAGE + 1, "price"),
    ],
)
def test_lines_of_the_tariff_that_cannot_stand_are_refused(season, name, price, field):
    add_band(season.organiser, "large letter", 155, NOW)

    with pytest.raises(PostageRefusedError) as refused:
        add_band(season.organiser, name, price, NOW)
    assert refused.value.field == field
    assert bands(season) == [("large letter", 155)]


def test_the_tariff_has_an_end_and_members_leave_it_alone(season):
    for number in range(MOST_BANDS):
        add_band(season.organiser, f"box {number}", number, NOW)
    with pytest.raises(PostageRefusedError):
        add_band(season.organiser, "one more", 1, NOW)
    with pytest.raises(NotAllowedError):
        add_band(season.ring.actor("Effie"), "mine", 1, NOW)
    with pytest.raises(NotAllowedError):
        remove_band(season.ring.actor("Effie"), 1, NOW)
    assert len(bands(season)) == MOST_BANDS
