"""Whether the draw was kept: a plain tie is found, and only what could have been is held against a share-out."""

from dataclasses import replace

import pytest

from exchange.domain.growing.shelter import Shelter, ShelterKind
from exchange.domain.sharing.case import Allocation
from exchange.domain.sharing.draw import drawn
from exchange.domain.sharing.draw_check import higher_draw
from exchange.domain.sharing.measure import measure
from exchange.domain.sharing.pairing import pair_up
from tests.builders.circles import a_case, a_claim, a_spare, a_variety

TO_CLAIM_1 = (Allocation(1, 1, 1),)


def a_number(higher, lower, spare=1):
    """Give a draw number by which one claim drew higher than another for a spare."""
    return next(
        str(number)
        for number in range(99)
        if drawn(str(number), higher, spare) > drawn(str(number), lower, spare)
    )


def a_tie(higher=2, **more):
    """One plant, and claims 1 and 2 that ask for it alike; claim 2 drew higher, or claim 1."""
    usual = {
        "draw_number": a_number(higher, 3 - higher),
        "spares": (a_spare(),),
        "claims": (a_claim(), a_claim(2, household=3)),
    }
    return a_case(**{**usual, **more})


def found(case, allocations=TO_CLAIM_1):
    return higher_draw(case, allocations, measure(case, pair_up(case)))


def test_a_plant_that_should_have_gone_to_the_higher_draw_is_found():
    assert found(a_tie(higher=2)) == (1, 1, 2)
    assert found(a_tie(higher=1)) is None


def test_who_takes_it_only_instead_of_another_may_have_drawn_higher_too():
    """Neither is given the variety asked for; both would take this one as much."""
    claims = (a_claim(variety=2, alternatives=(1,)), a_claim(2, 3, variety=2, alternatives=(1,)))
    assert found(a_tie(claims=claims)) == (1, 1, 2)


def test_what_stands_already_is_no_tie():
    assert found(a_tie(kept=TO_CLAIM_1)) is None


def test_a_higher_draw_is_no_ground_against_a_better_wish():
    claims = (a_claim(choice=1), a_claim(2, household=3, choice=2))
    assert found(a_tie(claims=claims)) is None


def test_a_higher_draw_is_no_ground_against_a_safer_home():
    tie = a_tie(varieties=(a_variety(must_not_be_lost=True),))
    what = measure(tie, pair_up(tie))
    safer = replace(what.precious[1], safer={2: 12, 3: 11})
    assert higher_draw(tie, TO_CLAIM_1, what) == (1, 1, 2)
    assert higher_draw(tie, TO_CLAIM_1, replace(what, precious={1: safer})) is None


def test_a_higher_draw_is_no_ground_where_another_plant_has_the_room():
    """Household 3 has room for one pot, and a plant of another variety stands there."""
    case = a_tie(
        spares=(a_spare(), a_spare(2, household=4, variety=2)),
        claims=(a_claim(), a_claim(2, household=3), a_claim(3, household=3, variety=2)),
        shelters=(Shelter(2, ShelterKind.INDOORS), Shelter(3, ShelterKind.INDOORS, 1)),
    )
    assert found(case, (*TO_CLAIM_1, Allocation(2, 3, 1))) is None
    assert found(replace(case, shelters=()), (*TO_CLAIM_1, Allocation(2, 3, 1))) == (1, 1, 2)


@pytest.mark.parametrize("given", [1, 2])
def test_a_claim_that_has_all_it_asked_for_asks_for_no_more(given):
    """Claim 2 asks for one and is given one; with two asked for it would be a plain tie."""
    spares = (a_spare(), a_spare(2, household=4))
    claims = (a_claim(asked=2), a_claim(2, household=3, asked=given))
    case = a_tie(spares=spares, claims=claims)
    assert found(case, (*TO_CLAIM_1, Allocation(2, 2, 1))) is None
