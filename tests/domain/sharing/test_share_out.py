"""The most of a contested variety orders and wastes nothing: two passes, and nothing left that somebody could take."""

import os
from collections import Counter

import pytest

from exchange.domain.growing.shelter import Shelter, ShelterKind
from exchange.domain.optimise.programme import never_stop
from exchange.domain.sharing.reason import Obstacle
from exchange.domain.sharing.share_out import find, work_out
from exchange.domain.sharing.working import check, in_order
from tests.builders.circles import a_case, a_claim, a_spare, middling_circle
from tests.domain.sharing.test_working import signed_again

CIRCLES = int(100 * float(os.environ.get("EXCHANGE_TEST_SCALE", "1")))


def given(case):
    """Give the plants of each claim, in the claims' order."""
    counts = Counter()
    for one in find(case, never_stop).allocations:
        counts[one.claim_id] += one.count
    return [counts[one.id] for one in case.claims]


def contest(plants, *asked, **more):
    """One spare of a number of plants, and a claim for a number by households 2, 3 and so on."""
    claims = tuple(
        a_claim(number, household=number + 1, asked=one)
        for number, one in enumerate(asked, start=1)
    )
    return a_case(spares=(a_spare(count=plants),), claims=claims, **more)


@pytest.mark.parametrize(
    ("plants", "asked", "got"),
    [(5, (6,), [5]), (5, (5,), [5]), (20, (7, 7, 7), [6, 7, 7]), (5, (4, 1), [4, 1]), (3, (3, 1), [2, 1])],
)  # fmt: skip
def test_beyond_the_most_the_rest_goes_to_those_who_still_ask(plants, asked, got):
    found = given(contest(plants, *asked))
    assert sorted(found[: len(got)]) == sorted(got)


def test_nobody_has_more_than_the_most_before_everybody_who_could_was_served_up_to_it():
    for draw in range(10):
        found = given(contest(5, 5, 2, 2, draw_number=str(draw)))
        assert found in ([2, 2, 1], [2, 1, 2], [1, 2, 2])


def test_what_the_first_pass_gave_stands_in_the_second():
    case = contest(9, 8, 3)
    first, second = find(case, never_stop).passes
    before = {(one.spare_id, one.claim_id): one.count for one in first.allocations}
    after = {(one.spare_id, one.claim_id): one.count for one in second.allocations}
    assert all(after[ends] >= count for ends, count in before.items())
    assert sum(before.values()) == 4
    assert sum(after.values()) == 9


def test_where_nothing_is_left_there_is_one_pass_and_its_rules_alone():
    found = work_out(contest(2, 2, 2))
    assert found.working["second"] is None
    assert [one.beyond for one in found.rules] == [False] * 6


def test_the_rules_of_the_second_pass_come_after_those_of_the_first():
    found = work_out(contest(5, 6))
    assert [one.number for one in found.rules] == [1, 2, 3, 4, 5, 6] * 2
    assert [one.beyond for one in found.rules] == [False] * 6 + [True] * 6
    assert [one.beyond for one in check(found.working)] == [False] * 8 + [True] * 7


def test_room_is_a_wall_in_both_passes():
    case = contest(5, 5, shelters=(Shelter(2, ShelterKind.INDOORS, 3),))
    assert given(case) == [3]
    assert work_out(case).reasons[1].obstacle is Obstacle.ROOM


def left_over(case, allocations):
    """Count plants left though a claim could take them: by hand, and with no code of the share-out's."""
    sent, had, places = Counter(), Counter(), Counter()
    spares, claims = {one.id: one for one in case.spares}, {one.id: one for one in case.claims}
    for one in allocations:
        sent[one.spare_id] += one.count
        had[one.claim_id] += one.count
        places[claims[one.claim_id].place_id] += one.count
    gone = {one.id for one in case.households if one.left}
    held = {one.id for one in case.varieties if one.protected}
    blocked = {
        ends for ends, row in case.passage.items() if row is not None and row.passage == "blocked"
    }
    sheltered = {one.place_id for one in case.shelters}
    return [
        (spare.id, claim.id)
        for spare in spares.values()
        for claim in claims.values()
        if sent[spare.id] < spare.count
        and had[claim.id] < claim.asked
        and spare.variety_id in (claim.variety_id, *claim.alternatives)
        and spare.material in claim.materials
        and spare.household_id != claim.household_id
        and not {spare.household_id, claim.household_id} & gone
        and spare.variety_id not in held
        and (spare.place_id, claim.place_id) not in blocked
        and min(spare.send_by, claim.no_use_after or spare.send_by)
        >= max(spare.ready_from, case.closes_on)
        # Where a place names no shelter, neither fit nor room is a wall.
        and claim.place_id not in sheltered
    ]  # fmt: skip


@pytest.mark.parametrize("number", range(CIRCLES))
def test_in_a_random_circle_nothing_is_left_that_somebody_could_take_and_the_checker_agrees(number):
    case = middling_circle(number + 40_000, most_contested=1 + number % 2)
    found = work_out(case)

    verdicts = check(found.working)

    assert in_order(verdicts), [one.words for one in verdicts]
    assert left_over(case, found.allocations) == []


def test_some_of_the_random_circles_have_a_second_pass():
    passes = [
        len(find(middling_circle(number + 40_000), never_stop).passes) for number in range(12)
    ]
    assert {1, 2} == set(passes)


def test_a_working_whose_second_pass_was_struck_out_is_called_wrong():
    working = work_out(contest(5, 6)).working
    told = check(signed_again({**working, "second": None}))
    assert any("could take" in one.words for one in told if one.wrong)


def test_more_than_the_most_in_the_first_pass_is_called_wrong():
    working = work_out(contest(5, 6)).working
    forged = signed_again({**working, **working["second"], "second": None})
    assert any("too many of contested" in one.words for one in check(forged) if one.wrong)
