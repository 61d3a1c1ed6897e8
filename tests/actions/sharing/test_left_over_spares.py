"""Which plants are left over for whom, and the claim they go to."""

from datetime import timedelta

import pytest

from exchange.actions.sharing import left_overs as module
from exchange.actions.sharing.allocations import said_no
from exchange.actions.sharing.left_overs import (
    CannotHaveItError,
    JustGoneError,
    left_over_spares,
    take_left_over,
)
from exchange.domain.growing.batch import Material
from exchange.domain.sharing.afterwards import LeftOverRefused
from exchange.domain.sharing.claim import USUAL_MATERIALS
from exchange.domain.sharing.reason import Obstacle
from exchange.domain.sharing.states import AllocationState
from exchange.records import ALLOCATIONS, CLAIMS, HOUSEHOLDS, LETTERS, PLACES, SPARES, TASKS, tasks
from exchange.records.rows.running import TaskState
from exchange.records.spares import NotEnoughLeftError
from tests.app_fixtures import NOW
from tests.builders.tasks import waiting

DAY = timedelta(days=1)


@pytest.fixture
def spare(sharing):
    """Two plants nobody asked for, left by a confirmed share-out."""
    made = sharing.offer("Winnie", sharing.name(), count=2)
    sharing.all_of_it()
    return made


def left(sharing, who="Effie", now=NOW):
    with sharing.house.books.reading() as tx:
        return [one.id for one in left_over_spares(tx, sharing.actor(who), now)]


def changed(sharing, spare_id, **said):
    with sharing.house.books.writing() as tx:
        SPARES.change(tx, sharing.circle_id, spare_id, **said)


def test_what_is_left_is_so_until_the_last_plant_is_taken(sharing, spare):
    before = left(sharing)
    for who in ("Effie", "Cuthbert"):
        take_left_over(sharing.actor(who), spare, NOW)

    assert (before, left(sharing)) == ([spare], [])


def test_what_is_held_withdrawn_or_set_aside_is_not_left_over(sharing, spare):
    effie = sharing.ring["Effie"].household_id
    for said, back in (
        ({"held": True}, {"held": False}),
        ({"withdrawn_at": NOW}, {"withdrawn_at": None}),
        ({"set_aside_for": effie}, {"set_aside_for": None}),
    ):
        changed(sharing, spare, **said)
        assert left(sharing) == []
        changed(sharing, spare, **back)

    assert left(sharing) == [spare]


def test_it_is_left_over_up_to_the_last_day_to_send_it(sharing, spare):
    changed(sharing, spare, send_by=NOW.date())

    assert (left(sharing), left(sharing, now=NOW + DAY)) == ([spare], [])


def test_what_a_household_that_left_had_listed_is_not_left_over(sharing, spare):
    with sharing.house.books.writing() as tx:
        HOUSEHOLDS.change(
            tx, sharing.circle_id, sharing.ring["Winnie"].household_id, left_on=NOW.date()
        )

    assert left(sharing) == []


def test_nothing_is_left_over_before_the_first_share_out_or_while_one_runs(sharing):
    spare = sharing.offer("Winnie", sharing.name())
    before = left(sharing)
    sharing.all_of_it()
    between = left(sharing)
    sharing.open()

    assert (before, between, left(sharing)) == ([], [spare], [])


def test_it_goes_to_a_new_claim_for_one_from_the_first_place(sharing, spare):
    take_left_over(sharing.actor("Effie"), spare, NOW + DAY)

    (made,) = sharing.given()
    claim = sharing.claim_row(made.claim_id)
    assert (claim.asked, claim.choice, claim.alternatives, claim.no_use_after) == (1, 1, (), None)
    assert (claim.place_id, claim.variety_id) == (
        sharing.ring.place("Effie").id,
        sharing.spare_row(spare).variety_id,
    )
    assert (claim.made_at, claim.entered_by) == (NOW + DAY, sharing.ring["Effie"].id)
    assert claim.materials == USUAL_MATERIALS
    assert (made.count, made.made_at) == (1, NOW + DAY)


def test_an_open_claim_takes_what_is_left_over_as_what_it_is_sent_as(sharing):
    variety = sharing.name()
    spare = sharing.offer("Winnie", variety, material=Material.CLUMP)
    claim = sharing.ask("Effie", variety, materials=frozenset({Material.POT_TUBER}))
    sharing.all_of_it()

    take_left_over(sharing.actor("Effie"), spare, NOW)

    assert sharing.standing() == {claim: 1}
    assert sharing.claim_row(claim).materials == {Material.CLUMP, Material.POT_TUBER}


def test_a_claim_of_somebody_else_is_left_alone(sharing, spare):
    variety = sharing.spare_row(spare).variety_id
    claim = sharing.ask("Cuthbert", variety)

    take_left_over(sharing.actor("Effie"), spare, NOW)

    assert claim not in sharing.standing()


def test_the_working_remembers_that_it_was_a_left_over(sharing, spare):
    number = take_left_over(sharing.actor("Effie"), spare, NOW)
    another = take_left_over(sharing.actor("Cuthbert"), spare, NOW)

    assert sharing.row().proposal["left_overs"] == [number, another]


def test_both_ends_are_told_and_the_days_are_planned(sharing, spare):
    with sharing.house.books.writing() as tx:
        for one in TASKS.all(tx, sharing.circle_id, state=TaskState.WAITING):
            tasks.end(tx, one.id, TaskState.DONE, NOW)

    take_left_over(sharing.actor("Effie"), spare, NOW)

    with sharing.house.books.reading() as tx:
        told = {one.member_id for one in LETTERS.all(tx, sharing.circle_id, kind="given_later")}
        claims = CLAIMS.all(tx, sharing.circle_id)
    assert told == {sharing.ring[who].id for who in ("Winnie", "Effie")}
    assert waiting(sharing.organiser, "plan") == [None]
    assert len(claims) == 1


@pytest.mark.parametrize(
    ("obstacle", "refused"),
    [
        (Obstacle.FEWER, JustGoneError),
        (Obstacle.NOBODY_OFFERS, JustGoneError),
        (Obstacle.BORDER, CannotHaveItError),
    ],
)
def test_what_went_meanwhile_is_just_gone_and_nothing_more_is_said(
    sharing, spare, monkeypatch, obstacle, refused
):
    def stands_in_the_way(*_asked):
        raise LeftOverRefused(obstacle)

    monkeypatch.setattr(module, "take_one", stands_in_the_way)

    with pytest.raises(refused):
        take_left_over(sharing.actor("Effie"), spare, NOW)
    assert sharing.given() == []


def test_what_is_ready_after_the_last_day_of_use_of_an_open_claim_is_not_to_be_had(sharing):
    variety = sharing.name()
    spare = sharing.offer("Winnie", variety, ready_from=NOW.date() + 9 * DAY)
    sharing.ask("Effie", variety, no_use_after=NOW.date() + 2 * DAY)
    sharing.all_of_it()

    with pytest.raises(CannotHaveItError):
        take_left_over(sharing.actor("Effie"), spare, NOW)


def test_the_place_the_claim_names_decides_whether_it_can_come(sharing, spare):
    first = sharing.ring.place("Effie")
    with sharing.house.books.writing() as tx:
        beyond = PLACES.add(
            tx, sharing.circle_id, household_id=first.household_id, name="cottage", town="Newry",
            county="Down", country="GB", subdivision="NIR", latitude=54.2, longitude=-6.3,
            zone="Europe/London",
        )  # fmt: skip
    sharing.ask("Effie", sharing.spare_row(spare).variety_id, place_id=beyond)

    with pytest.raises(CannotHaveItError):
        take_left_over(sharing.actor("Effie"), spare, NOW)

    assert sharing.standing() == {}


def test_one_taken_in_the_last_moment_is_just_gone(sharing, spare, monkeypatch):
    def none_left(*_asked):
        raise NotEnoughLeftError

    monkeypatch.setattr(module, "give", none_left)

    with pytest.raises(JustGoneError):
        take_left_over(sharing.actor("Effie"), spare, NOW)


def test_a_no_outside_a_share_out_is_not_remembered_against_anybody(sharing):
    effie = sharing.ring["Effie"].household_id
    sharing.offer("Cuthbert", sharing.name(), set_aside_for=effie)
    (one,) = sharing.given()
    with sharing.house.books.writing() as tx:
        ALLOCATIONS.change(tx, sharing.circle_id, one.id, state=AllocationState.REFUSED)

    with sharing.house.books.reading() as tx:
        assert said_no(tx, sharing.circle_id) == frozenset()
