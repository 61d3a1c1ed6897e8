"""Two plants of one kind in one parcel are asked about, answered and unpacked in one line."""

import re
from datetime import timedelta

import pytest

from exchange.actions.posting.parcels import (
    AliveCountRefusedError,
    Arrival,
    say_arrived,
    say_posted,
)
from exchange.actions.sharing.allocation_answers import (
    NoLongerOpenError,
    agree,
    decline,
    refuse,
    refuse_in_parcel,
)
from exchange.actions.sharing.page_claims import claims_page
from exchange.actions.sharing.sender_answer import (
    AnswerRefusedError,
    SenderAnswer,
    answer_as_sender,
    to_answer,
)
from exchange.actions.sharing.share_out import confirm_share_out, work_out_share_out
from exchange.actions.sharing.spares import list_spare
from exchange.domain.arriving.arrival import Condition
from exchange.domain.growing.batch import Raised
from exchange.domain.optimise.programme import never_stop
from exchange.domain.posting.parcel import ParcelState
from exchange.domain.sharing.states import AllocationState
from exchange.records import ALLOCATIONS, BATCHES, LETTERS, PARCEL_LINES, PARCELS
from exchange.words.sharing.share_out_after import declined
from tests.app_fixtures import Visitor
from tests.builders.season import MONDAY, a_season, a_spare, announce, morning

NOW = morning(MONDAY, 9)


def a_double(here, sender="Winnie", **changes):
    """Let Effie be given two cuttings of one variety from two spares, of which the first is Winnie's."""
    made = a_season(here.house, now=NOW, claimants=("Effie",), asked=2, count=1, confirmed=False)
    list_spare(made.ring.actor(sender), a_spare(made.variety_id, 1, NOW, **changes), NOW)
    work_out_share_out(made.organiser, made.share_out_id, never_stop, NOW)
    confirm_share_out(made.organiser, made.share_out_id, NOW)
    announce(made)
    here.clock.at = NOW
    return made


@pytest.fixture
def season(here):
    return a_double(here)


def states(season):
    with season.house.books.reading() as tx:
        return [one.state for one in ALLOCATIONS.all(tx, season.circle_id)]


def first_asked(season):
    return to_answer(season.organiser)[0].allocation_id


def test_they_are_asked_about_in_one_line(season):
    (line,) = to_answer(season.organiser)

    assert line.count == 2
    assert line.what.replace("\xa0", " ") == "2 rooted cuttings of Dahlia ‘Chapel Lantern’"


def test_raised_otherwise_they_are_two_lines(here):
    made = a_double(here, raised=Raised.IN_HEAT)

    assert [one.count for one in to_answer(made.organiser)] == [1, 1]


def test_one_yes_and_one_no_are_said_of_all_of_the_line(season):
    agree(season.organiser, first_asked(season), NOW)
    assert states(season) == [AllocationState.AGREED] * 2

    refuse(season.organiser, first_asked(season), NOW)
    assert states(season) == [AllocationState.REFUSED] * 2


def test_a_no_in_the_parcel_leaves_nothing_in_it(season):
    parcel = season.parcel_to("Effie")

    assert refuse_in_parcel(season.organiser, parcel.id, first_asked(season), NOW)
    assert states(season) == [AllocationState.REFUSED] * 2


def test_fewer_of_a_line_can_go(season):
    answer_as_sender(season.organiser, [SenderAnswer(first_asked(season), 1)], NOW)

    assert states(season) == [AllocationState.AGREED, AllocationState.REFUSED]


def test_more_than_the_line_has_is_refused_with_its_number(season):
    with pytest.raises(AnswerRefusedError, match="from 0 to 2"):
        answer_as_sender(season.organiser, [SenderAnswer(first_asked(season), 3)], NOW)


def test_a_later_day_is_held_to_the_earliest_last_day_of_the_line(here):
    made = a_double(here, send_by=NOW.date() + timedelta(days=20))
    later = SenderAnswer(first_asked(made), 2, NOW.date() + timedelta(days=30))

    with pytest.raises(AnswerRefusedError, match="It must go by"):
        answer_as_sender(made.organiser, [later], NOW)


def test_what_is_said_of_each_by_itself_is_taken_as_said(season):
    with season.house.books.reading() as tx:
        first, second = [one.id for one in ALLOCATIONS.all(tx, season.circle_id)]

    answer_as_sender(season.organiser, [SenderAnswer(first, 0), SenderAnswer(second, 1)], NOW)

    assert states(season) == [AllocationState.REFUSED, AllocationState.AGREED]


@pytest.mark.parametrize(("alive", "stand"), [(2, 2), (1, 1), (0, 0)])
def test_how_many_live_is_said_of_the_line(season, alive, stand):
    parcel = season.parcel_to("Effie")
    say_posted(season.organiser, parcel.id, MONDAY, NOW)
    with season.house.books.reading() as tx:
        first, _ = PARCEL_LINES.all(tx, season.circle_id, parcel_id=parcel.id)
    came = Arrival(MONDAY, Condition.WELL, alive={first.allocation_id: alive})

    say_arrived(season.ring.actor("Effie"), parcel.id, came, NOW)

    with season.house.books.reading() as tx:
        effies = season.ring["Effie"].household_id
        batches = BATCHES.all(tx, season.circle_id, household_id=effies)
    assert sum(one.plants for one in batches) == stand


@pytest.mark.parametrize("alive", [-1, 3])
def test_more_alive_than_the_line_had_is_refused_with_its_number(season, alive):
    parcel = season.parcel_to("Effie")
    say_posted(season.organiser, parcel.id, MONDAY, NOW)
    with season.house.books.reading() as tx:
        first, _ = PARCEL_LINES.all(tx, season.circle_id, parcel_id=parcel.id)
    came = Arrival(MONDAY, Condition.WELL, alive={first.allocation_id: alive})

    with pytest.raises(AliveCountRefusedError, match="from 0 to 2"):
        say_arrived(season.ring.actor("Effie"), parcel.id, came, NOW)


def coming(season):
    (line,) = claims_page(season.ring.actor("Effie"), NOW).lines
    return line.coming


def decline_first(season):
    return decline(season.ring.actor("Effie"), coming(season)[0].allocation_id, NOW)


@pytest.mark.parametrize("sender", ["Winnie", "Cuthbert"])
def test_what_a_claim_is_given_is_one_line_whoever_sends_it(here, sender):
    made = a_double(here, sender)

    (line,) = coming(made)

    assert (line.count, line.what[:17]) == (2, "2\xa0rooted cuttings")
    assert decline_first(made) == 0
    assert states(made) == [AllocationState.DECLINED] * 2


def test_raised_otherwise_it_is_two_lines_declined_one_by_one(here):
    made = a_double(here, raised=Raised.IN_HEAT)

    assert [one.count for one in coming(made)] == [1, 1]
    decline_first(made)
    assert sorted(states(made)) == [AllocationState.CONFIRMED, AllocationState.DECLINED]


def test_what_was_posted_is_not_declined_with_the_rest_of_its_line(here):
    made = a_double(here, "Cuthbert")
    say_posted(made.organiser, made.parcel_to("Effie").id, MONDAY, NOW)

    still = decline_first(made)

    assert still == 1
    assert sorted(states(made)) == [AllocationState.CONFIRMED, AllocationState.DECLINED]
    assert declined(still).endswith("1\xa0plant had been posted before.")
    with pytest.raises(NoLongerOpenError, match="on their way"):
        decline_first(made)


def test_what_came_back_to_its_sender_keeps_its_line_in_that_parcel(season):
    parcel = season.parcel_to("Effie")
    with season.house.books.writing() as tx:
        PARCELS.change(tx, season.circle_id, parcel.id, state=ParcelState.RETURNED)

    decline_first(season)

    with season.house.books.reading() as tx:
        assert len(PARCEL_LINES.all(tx, season.circle_id, parcel_id=parcel.id)) == 2
    assert states(season) == [AllocationState.DECLINED] * 2


def test_pages_and_letters_say_it_once(here, season):
    parcel = season.parcel_to("Effie")
    winnie, effie = (Visitor(here, season.ring[name]) for name in ("Winnie", "Effie"))

    pages = [
        winnie.get(f"/parcels/{parcel.id}").text,
        effie.get(f"/parcels/{parcel.id}/came").text,
        winnie.get("/parcels/answer").text,
        winnie.get(f"/papers/{parcel.id}/care").text,
        effie.get("/claims").text,
    ]
    with season.house.books.reading() as tx:
        letters = [one.body for one in LETTERS.all(tx, season.circle_id)]

    for text in (*pages, *letters):
        plain = re.sub(r"<[^>]+>", "", text).replace("\xa0", " ").replace("&nbsp;", " ")
        assert not re.search(r"\b1 rooted cutting of", plain)
    assert sum("2\xa0rooted cuttings" in one for one in letters) >= 2
