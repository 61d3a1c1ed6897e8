"""What the rules count, against figures worked out by hand."""

import itertools

import pytest

from exchange.actions.sharing.claims import MOST_ALTERNATIVES
from exchange.domain.circle.household import Household
from exchange.domain.growing.batch import Material
from exchange.domain.sharing.case import SharingTerms
from exchange.domain.sharing.measure import LARGEST_STEP, measure, shift
from exchange.domain.sharing.pairing import pair_up
from tests.builders.circles import a_case, a_claim, a_spare


def measured(**more):
    case = a_case(**more)
    return measure(case, pair_up(case))


def contest(plants, asked, **more):
    """One variety with a number of plants, and a claim for a number by households 2, 3 and so on."""
    claims = tuple(
        a_claim(number, household=number + 1, asked=one)
        for number, one in enumerate(asked, start=1)
    )
    return measured(spares=(a_spare(count=plants),), claims=claims, **more)


@pytest.mark.parametrize(("choice", "counts"), [(1, 60_000), (2, 30_000), (3, 20_000), (4, 20_000)])
def test_a_wish_counts_by_its_choice_and_a_fourth_as_a_third(choice, counts):
    assert contest(1, [1]).wish(choice, 0) == counts


@pytest.mark.parametrize("choice", [1, 2, 3])
def test_an_alternative_counts_less_the_further_down_it_stands_and_the_last_one_still_counts(
    choice,
):
    what = contest(1, [1])
    counts = [what.wish(choice, rank) for rank in range(1 + MOST_ALTERNATIVES)]
    assert counts == sorted(set(counts), reverse=True)
    assert counts[1] < what.wish(3, 0)
    assert counts[-1] > 0


def test_a_variety_is_contested_when_more_are_asked_for_than_offered():
    assert contest(2, [1, 1]).contested == frozenset()
    assert contest(2, [1, 2]).contested == {1}


def test_only_wishes_for_the_variety_itself_contest_it():
    """Claim 2 does not take variety 2 as it is sent, and would have variety 1 instead."""
    rooted, young = frozenset({Material.ROOTED}), frozenset({Material.YOUNG_PLANT})
    spares = (a_spare(material=Material.YOUNG_PLANT), a_spare(2, variety=2))
    claims = (
        a_claim(variety=2, materials=rooted),
        a_claim(2, household=3, variety=2, alternatives=(1,), materials=young),
    )
    assert measured(spares=spares, claims=claims).contested == frozenset()


def test_a_claim_that_no_spare_could_serve_contests_nothing():
    homes = (Household(1, "a"), Household(2, "b"), Household(3, "c", left=True))
    assert contest(1, [1, 1], households=homes).contested == frozenset()
    assert contest(1, [1, 1]).contested == {1}


def test_a_givers_first_plant_outweighs_those_of_all_others_together():
    """Household 2 offers something, too; eight others ask beside it."""
    more = a_spare(2, household=2, variety=2)
    claims = tuple(a_claim(number, household=number + 1) for number in range(1, 10))
    for refusal in (True, False):
        what = measured(
            spares=(a_spare(), more), claims=claims, terms=SharingTerms(first_refusal=refusal)
        )
        others = sum(what.first_plant(household) for household in range(3, 11))
        assert what.first_plant(3) == 1
        assert (what.first_plant(2) > others) is refusal


@pytest.mark.parametrize(
    ("given", "received", "steps"),
    [(0, 0, 2), (3, 1, 2), (1, 1, 1), (2, 2, 1), (1, 3, 1), (0, 2, 1), (4, 8, 0), (8, 30, -1), (0, 90, -2), (90, 0, 2)],
)  # fmt: skip
def test_the_shift_is_for_givers_and_newcomers_and_never_beyond_its_size(given, received, steps):
    assert shift(SharingTerms(shift=2), given, received) == steps
    assert shift(SharingTerms(shift=0), given, received) == 0


def test_the_shift_never_falls_with_what_was_given_nor_rises_with_what_was_received():
    for size in range(6):
        table = [[shift(SharingTerms(shift=size), g, r) for r in range(40)] for g in range(40)]
        for more, fewer in itertools.pairwise(table):
            assert all(one <= two for one, two in zip(more, fewer, strict=True))
        assert all(line == sorted(line, reverse=True) for line in table)
        assert {table[0][0], table[39][0]} == {size}


def test_a_step_of_the_ladder_outweighs_the_next_of_every_household():
    what = contest(2, [2, 2, 2], terms=SharingTerms(most_contested=2))
    assert what.base
    for number in range(what.steps - 1):
        assert what.step(number) > 3 * what.step(number + 1) > 0


def test_beyond_the_largest_step_every_further_one_still_counts_less_by_as_much():
    """Least squares: the squares of levels rise by 1, 3, 5 and so on."""
    what = contest(30, [9] * 10, terms=SharingTerms(most_contested=9))
    assert what.base == 0
    assert 11 ** (what.steps - 1) > LARGEST_STEP
    steps = [what.step(number) for number in range(what.steps)]
    assert steps[-3:] == [5, 3, 1]
    assert {one - two for one, two in itertools.pairwise(steps)} == {2}


def test_the_ladder_is_as_long_as_the_most_a_household_could_still_receive():
    """Asked for two varieties, at most two of each, but of the second only one."""
    spares = (a_spare(count=1), a_spare(2, variety=2))
    claims = (
        a_claim(1, asked=5),
        a_claim(2, variety=2),
        a_claim(3, household=3, variety=2),
    )
    what = measured(spares=spares, claims=claims, terms=SharingTerms(most_contested=2, shift=0))
    assert what.contested == {1, 2}
    assert what.steps == 3
    assert len(what.ladder(2, 9)) == 3


def test_a_claim_for_one_of_two_varieties_makes_the_ladder_one_step_long():
    spares = (a_spare(), a_spare(2, variety=2))
    claims = (
        a_claim(alternatives=(2,)),
        a_claim(2, household=3),
        a_claim(3, household=4, variety=2),
        a_claim(4, household=5, variety=2),
    )
    what = measured(spares=spares, claims=claims, terms=SharingTerms(shift=0))
    assert what.contested == {1, 2}
    assert what.steps == 1
