"""Answers to some of what was given: only those plants, that claim and their line in a parcel change."""

from datetime import timedelta

import pytest

from exchange.actions.kernel.actor import NotAllowedError
from exchange.actions.posting.parcels import say_posted
from exchange.actions.sharing.allocation_answers import agree, decline, refuse, refuse_in_parcel
from exchange.actions.sharing.sender_answer import (
    AnswerRefusedError,
    SenderAnswer,
    answer_as_sender,
    to_answer,
)
from exchange.actions.sharing.spares import list_spare
from exchange.domain.growing.batch import Raised
from exchange.domain.sharing.states import AllocationState
from exchange.records import (
    ALLOCATIONS,
    CLAIMS,
    DEEDS,
    MEMBERS,
    PARCEL_LINES,
    PARCELS,
    SPARES,
    TASKS,
    NotHereError,
    tasks,
)
from exchange.records.rows.running import TaskState
from tests.app_fixtures import NOW
from tests.builders.offers import row, rows
from tests.builders.season import a_spare
from tests.builders.season_kept import keep_season
from tests.builders.tasks import waiting

DAY = timedelta(days=1)


@pytest.fixture(scope="module")
def kept(tmp_path_factory):
    """Two members were given two plants each of Winnie's five."""
    return keep_season(tmp_path_factory.mktemp("kept"), count=5, asked=2)


@pytest.fixture
def given(season):
    """Give the allocations by whom they are for."""
    names = {claim_id: name for name, claim_id in season.claims.items()}
    return {names[one.claim_id]: one for one in rows(season, ALLOCATIONS)}


@pytest.fixture
def winnie(season):
    return season.ring.actor("Winnie")


def spare(season):
    return row(season, SPARES, season.spares["Winnie"])


def allocation(season, one):
    return row(season, ALLOCATIONS, one.id)


def test_a_no_takes_its_plants_off_the_list_and_leaves_the_others_where_they_are(
    season, given, winnie
):
    refuse(winnie, given["Effie"].id, NOW)

    assert (spare(season).count, spare(season).allocated, spare(season).withdrawn_at) == (
        3,
        2,
        None,
    )
    assert [one.allocation_id for one in rows(season, PARCEL_LINES)] == [given["Cuthbert"].id]
    ended = allocation(season, given["Effie"])
    assert (ended.state, ended.answered_at) == (AllocationState.REFUSED, NOW)
    assert allocation(season, given["Cuthbert"]).state is AllocationState.CONFIRMED
    assert waiting(winnie, "reserve") == [season.variety_id]


def test_a_yes_is_kept_with_its_hour(season, given, winnie):
    agree(winnie, given["Effie"].id, NOW + DAY)

    kept = allocation(season, given["Effie"])
    assert (kept.state, kept.answered_at) == (AllocationState.AGREED, NOW + DAY)


def test_only_the_receiver_declines(given, season):
    with pytest.raises(NotAllowedError):
        decline(season.ring.actor("Cuthbert"), given["Effie"].id, NOW)


def test_a_claim_met_by_two_kinds_asks_for_what_still_stands_when_one_is_declined(
    season, given, winnie
):
    effie = season.ring.actor("Effie")
    hot = list_spare(winnie, a_spare(season.variety_id, raised=Raised.IN_HEAT), NOW)
    with season.house.books.writing() as tx:
        ALLOCATIONS.add(
            tx, season.circle_id, spare_id=hot, count=1, made_at=NOW,
            claim_id=season.claims["Effie"], share_out_id=season.share_out_id,
        )  # fmt: skip

    decline(effie, given["Effie"].id, NOW)

    claim = row(season, CLAIMS, season.claims["Effie"])
    assert (claim.asked, claim.withdrawn_at) == (1, None)
    assert row(season, CLAIMS, season.claims["Cuthbert"]).asked == 2


def test_all_of_it_changes_no_number(season, given, winnie):
    answer_as_sender(winnie, [SenderAnswer(given["Effie"].id, 2)], NOW)

    assert (spare(season).count, spare(season).allocated) == (5, 4)
    assert len(rows(season, ALLOCATIONS)) == 2
    assert allocation(season, given["Effie"]).state is AllocationState.AGREED
    assert waiting(winnie, "reserve") == []


def test_what_is_missing_is_kept_as_a_no_of_its_own(season, given, winnie):
    answer_as_sender(winnie, [SenderAnswer(given["Effie"].id, 1)], NOW + DAY)

    (missing,) = rows(season, ALLOCATIONS, state=AllocationState.REFUSED)
    assert (missing.count, missing.claim_id, missing.spare_id, missing.share_out_id) == (
        1, season.claims["Effie"], season.spares["Winnie"], season.share_out_id,
    )  # fmt: skip
    assert (missing.answered_at, missing.made_at) == (NOW + DAY, given["Effie"].made_at)
    assert waiting(winnie, "reserve") == [season.variety_id]


@pytest.mark.parametrize("count", [-1, 3])
def test_no_fewer_than_none_and_no_more_than_were_given(season, given, winnie, count):
    with pytest.raises(AnswerRefusedError, match="from 0 to 2") as refused:
        answer_as_sender(winnie, [SenderAnswer(given["Effie"].id, count)], NOW)

    assert refused.value.field == f"count-{given['Effie'].id}"


@pytest.mark.parametrize("days", [0, 42])
def test_today_and_the_last_day_to_send_are_days_from_which_they_can_go(
    season, given, winnie, days
):
    day = NOW.date() + days * DAY

    answer_as_sender(winnie, [SenderAnswer(given["Effie"].id, 2, day)], NOW)

    assert spare(season).ready_from == day


@pytest.mark.parametrize(("days", "sentence"), [(-1, "is past"), (43, "must go by")])
def test_yesterday_and_the_day_after_the_last_are_not(season, given, winnie, days, sentence):
    answer = SenderAnswer(given["Effie"].id, 2, NOW.date() + days * DAY)

    with pytest.raises(AnswerRefusedError, match=sentence) as refused:
        answer_as_sender(winnie, [answer], NOW)

    assert refused.value.field == f"later-{given['Effie'].id}"


def test_a_day_before_that_of_the_spare_changes_nothing(season, given, winnie):
    with season.house.books.writing() as tx:
        SPARES.change(
            tx, season.circle_id, season.spares["Winnie"], ready_from=NOW.date() + 9 * DAY
        )

    answer_as_sender(winnie, [SenderAnswer(given["Effie"].id, 2, NOW.date())], NOW)

    assert spare(season).ready_from == NOW.date() + 9 * DAY


def test_what_is_on_its_way_is_asked_about_and_answered_no_more(season, given, winnie):
    say_posted(winnie, season.parcel_to("Effie").id, NOW.date(), NOW)

    assert [one.allocation_id for one in to_answer(winnie)] == [given["Cuthbert"].id]
    with pytest.raises(AnswerRefusedError, match="on their way"):
        answer_as_sender(winnie, [SenderAnswer(given["Effie"].id, 2)], NOW)


def test_what_was_declined_is_asked_about_and_answered_no_more(season, given, winnie):
    decline(season.ring.actor("Effie"), given["Effie"].id, NOW)

    assert [one.allocation_id for one in to_answer(winnie)] == [given["Cuthbert"].id]
    with pytest.raises(AnswerRefusedError, match="no longer asked for"):
        answer_as_sender(winnie, [SenderAnswer(given["Effie"].id, 2)], NOW)


def test_the_sender_sees_what_for_whom_and_by_when(season, given, winnie):
    agree(winnie, given["Effie"].id, NOW)
    parcel = season.parcel_to("Effie")

    (asked,) = to_answer(winnie, parcel.id)

    assert (asked.allocation_id, asked.other, asked.count, asked.agreed) == (
        given["Effie"].id, "Effie", 2, True,
    )  # fmt: skip
    assert "Chapel Lantern" in asked.what
    assert (asked.posting_day, asked.send_by) == (parcel.posting_day, spare(season).send_by)
    assert not next(one for one in to_answer(winnie) if one.other == "Cuthbert").agreed
    assert to_answer(season.ring.actor("Effie")) == ()


def test_what_goes_first_is_asked_about_first_and_what_has_no_day_last(season, given, winnie):
    with season.house.books.writing() as tx:
        for name, day in (("Effie", NOW.date() + DAY), ("Cuthbert", NOW.date() + 2 * DAY)):
            parcel = season.parcel_to(name)
            PARCELS.change(tx, season.circle_id, parcel.id, posting_day=day)
    first = [one.other for one in to_answer(winnie)]
    with season.house.books.writing() as tx:
        PARCELS.change(tx, season.circle_id, season.parcel_to("Effie").id, posting_day=None)

    assert first == ["Effie", "Cuthbert"]
    assert [one.other for one in to_answer(winnie)] == ["Cuthbert", "Effie"]


def test_fewer_plants_fill_the_lines_from_the_first(season, given, winnie):
    (line,) = rows(season, PARCEL_LINES, allocation_id=given["Effie"].id)
    other = season.parcel_to("Cuthbert")
    with season.house.books.writing() as tx:
        PARCEL_LINES.change(tx, season.circle_id, line.id, count=1)
        PARCEL_LINES.add(
            tx, season.circle_id, parcel_id=other.id, allocation_id=given["Effie"].id, count=1
        )

    answer_as_sender(winnie, [SenderAnswer(given["Effie"].id, 1)], NOW)

    kept = rows(season, PARCEL_LINES, allocation_id=given["Effie"].id)
    assert sum(one.count for one in kept) == 1


def test_a_no_to_plants_in_a_parcel_is_a_no_to_plants_in_that_parcel_only(season, given, winnie):
    right, wrong = season.parcel_to("Effie"), season.parcel_to("Cuthbert")

    with pytest.raises(NotHereError):
        refuse_in_parcel(winnie, wrong.id, given["Effie"].id, NOW)
    alone = refuse_in_parcel(winnie, right.id, given["Effie"].id, NOW)

    assert alone
    assert allocation(season, given["Effie"]).state is AllocationState.REFUSED


def test_it_is_said_when_something_else_is_in_the_parcel(season, given, winnie):
    parcel = season.parcel_to("Effie")
    with season.house.books.writing() as tx:
        PARCEL_LINES.add(
            tx, season.circle_id, parcel_id=parcel.id, allocation_id=given["Cuthbert"].id, count=1
        )

    assert not refuse_in_parcel(winnie, parcel.id, given["Effie"].id, NOW)


@pytest.fixture
def in_two_parcels(season, given):
    """Give the two lines of Effie's two plants, one in each parcel."""
    (line,) = rows(season, PARCEL_LINES, allocation_id=given["Effie"].id)
    with season.house.books.writing() as tx:
        PARCEL_LINES.change(tx, season.circle_id, line.id, count=1)
        second = PARCEL_LINES.add(
            tx, season.circle_id, parcel_id=season.parcel_to("Cuthbert").id,
            allocation_id=given["Effie"].id, count=1,
        )  # fmt: skip
    return line.id, second


def test_of_two_parcels_the_day_of_the_first_to_go_is_told(season, given, winnie, in_two_parcels):
    with season.house.books.writing() as tx:
        for name, days in (("Effie", 3), ("Cuthbert", 2)):
            day = NOW.date() + days * DAY
            PARCELS.change(tx, season.circle_id, season.parcel_to(name).id, posting_day=day)

    asked = next(one for one in to_answer(winnie) if one.other == "Effie")

    assert asked.posting_day == NOW.date() + 2 * DAY


def test_of_two_parcels_one_without_a_day_is_passed_over(season, given, winnie, in_two_parcels):
    with season.house.books.writing() as tx:
        for name, day in (("Effie", None), ("Cuthbert", NOW.date() + DAY)):
            PARCELS.change(tx, season.circle_id, season.parcel_to(name).id, posting_day=day)

    asked = next(one for one in to_answer(winnie) if one.other == "Effie")

    assert asked.posting_day == NOW.date() + DAY


def test_what_lies_in_two_parcels_is_asked_about_with_either(season, given, winnie, in_two_parcels):
    asked = {
        name: {one.allocation_id for one in to_answer(winnie, season.parcel_to(name).id)}
        for name in ("Effie", "Cuthbert")
    }

    assert asked["Effie"] == {given["Effie"].id}
    assert asked["Cuthbert"] == {given["Effie"].id, given["Cuthbert"].id}


def test_who_has_left_is_not_named_among_those_the_plants_are_for(season, given, winnie):
    with season.house.books.writing() as tx:
        MEMBERS.add(
            tx, season.circle_id, household_id=season.ring["Effie"].household_id,
            first_name="Ned", joined_at=NOW, left_at=NOW,
        )  # fmt: skip

    assert "Effie" in {one.other for one in to_answer(winnie)}


def test_a_no_that_leaves_one_plant_leaves_the_spare_on_the_list(season, given, winnie):
    answer_as_sender(winnie, [SenderAnswer(given["Cuthbert"].id, 0)], NOW)
    answer_as_sender(winnie, [SenderAnswer(given["Effie"].id, 0)], NOW)

    assert (spare(season).count, spare(season).withdrawn_at) == (1, None)


def test_ready_on_the_day_it_was_listed_for_is_nothing_new(season, given, winnie):
    ready = spare(season).ready_from

    answer_as_sender(winnie, [SenderAnswer(given["Effie"].id, 2, ready)], NOW)

    assert "is ready later" not in {one.act for one in rows(season, DEEDS)}


def test_a_yes_asks_for_a_plan(season, given, winnie):
    with season.house.books.writing() as tx:
        for one in TASKS.all(tx, season.circle_id, state=TaskState.WAITING):
            tasks.end(tx, one.id, TaskState.DONE, NOW)

    answer_as_sender(winnie, [SenderAnswer(given["Effie"].id, 2)], NOW)

    assert waiting(season.organiser, "plan") == [None]
