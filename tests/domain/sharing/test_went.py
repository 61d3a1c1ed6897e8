"""Each statement on where plants went is made where it holds, and not where it fails for one of those they went to."""

from dataclasses import replace

import pytest

from exchange.domain.growing.batch import Batch, Material, Raised
from exchange.domain.growing.shelter import Shelter, ShelterKind
from exchange.domain.sharing.case import Allocation
from exchange.domain.sharing.draw import drawn
from exchange.domain.sharing.followed import Result
from exchange.domain.sharing.measure import measure
from exchange.domain.sharing.pairing import pair_up
from exchange.domain.sharing.reason import Rule, WentTo
from exchange.domain.sharing.went import where_they_went
from tests.builders.circles import a_case, a_claim, a_spare, a_variety

ME = a_claim(1, household=2)
OTHERS = (a_claim(2, household=3), a_claim(3, household=4))


def went(rule, allocations, *claims, spares=None, **more):
    """Say where the plants of the first variety went, in a result that is written down here."""
    spares = spares or (a_spare(count=2),)
    case = a_case(spares=spares, claims=claims or (ME, *OTHERS), **more)
    given = tuple(Allocation(*one) for one in allocations)
    result = Result(case, measure(case, pair_up(case)), given)
    could = [one for one in case.spares if one.variety_id == 1 and one.household_id != 2]
    return where_they_went(result, result.account(case.claims[0], could), rule)


BOTH = ((1, 2, 1), (1, 3, 1))


@pytest.mark.parametrize(
    ("choices", "expected"),
    [((2, 1, 1), WentTo.HIGHER_WISH), ((2, 1, 2), WentTo.BY_RULES), ((1, 1, 2), WentTo.BY_RULES)],
)
def test_who_got_one_had_put_it_higher_each_of_them(choices, expected):
    claims = tuple(
        replace(one, choice=choice) for one, choice in zip((ME, *OTHERS), choices, strict=True)
    )

    assert went(Rule.WISHES, BOTH, *claims) is expected


def test_who_would_take_it_instead_of_another_had_not_put_it_higher():
    instead = a_claim(2, household=3, variety=2, alternatives=(1,))

    assert went(Rule.WISHES, ((1, 2, 2),), replace(ME, choice=3), instead) is WentTo.BY_RULES


@pytest.mark.parametrize(
    ("allocations", "expected"),
    [
        (((1, 1, 1), (1, 2, 1), (1, 3, 1)), WentTo.HAD_NONE),
        (((1, 1, 1), (1, 2, 2)), WentTo.BY_RULES),
        (((1, 2, 1), (1, 3, 2)), WentTo.BY_RULES),
    ],
)
def test_a_first_plant_comes_first_only_for_who_has_one(allocations, expected):
    claims = (replace(ME, asked=2), *(replace(one, asked=2) for one in OTHERS))

    assert went(Rule.ONE_EACH, allocations, *claims, spares=(a_spare(count=3),)) is expected


def test_to_have_been_given_less_is_meant_of_all_plants_but_the_last():
    spares = (a_spare(), a_spare(2, variety=2, count=3))
    mine, other = a_claim(3, household=2, variety=2), a_claim(4, household=3, variety=2, asked=2)
    claims = (ME, OTHERS[0], mine, other)

    less = went(Rule.FAIR, ((1, 2, 1), (2, 3, 1)), *claims, spares=spares)
    as_many = went(Rule.FAIR, ((1, 2, 1), (2, 3, 1), (2, 4, 1)), *claims, spares=spares)

    assert (less, as_many) == (WentTo.GIVEN_LESS, WentTo.BY_RULES)


def test_what_nobody_else_wants_is_left_out_where_scarce_plants_are_counted():
    """The other has two of what there is enough of, and the household one of what is scarce, as the first variety is."""
    spares = (a_spare(), a_spare(2, variety=2, count=2), a_spare(3, variety=3))
    claims = (
        ME,
        OTHERS[0],
        a_claim(3, household=3, variety=2, asked=2),
        a_claim(4, household=2, variety=3),
        a_claim(5, household=4, variety=3),
    )

    assert went(Rule.FAIR, ((1, 2, 1), (2, 3, 2), (3, 4, 1)), *claims, spares=spares) is (
        WentTo.LESS_OF_SCARCE
    )


@pytest.mark.parametrize(
    ("given", "expected"), [({3: 9, 4: 9}, WentTo.EARLIER), ({3: 9}, WentTo.BY_RULES)]
)
def test_who_comes_earlier_for_what_was_given_and_received(given, expected):
    assert went(Rule.FAIR, BOTH, given=given, received={2: 9, 4: 9 - len(given)}) is not None
    assert (
        went(Rule.FAIR, BOTH, given=given, received={2: 9, 4: 0 if 4 in given else 9}) is expected
    )


def test_some_had_less_and_the_others_come_earlier():
    spares = (a_spare(count=2), a_spare(3, variety=3, count=2))
    claims = (
        ME,
        *OTHERS,
        a_claim(4, household=2, variety=3),
        a_claim(5, household=4, variety=3),
        a_claim(6, household=5, variety=3),
    )
    allocations = (*BOTH, (3, 4, 1), (3, 5, 1))

    assert went(
        Rule.FAIR, allocations, *claims, spares=spares, given={4: 9}, received={2: 9, 3: 9}
    ) is (WentTo.LESS_OR_EARLIER)
    assert went(Rule.FAIR, allocations, *claims, spares=spares) is WentTo.BY_RULES


def test_parcels_are_named_only_where_each_plant_would_have_needed_one_more():
    """The other has a parcel from that household anyway; where the household has one too, parcels are no reason."""
    spares = (a_spare(), a_spare(2, variety=2, count=2))
    other, mine = a_claim(3, household=3, variety=2), a_claim(4, household=2, variety=2)
    claims = (ME, OTHERS[0], other, mine)

    with_it = went(Rule.FEWEST_PARCELS, ((1, 2, 1), (2, 3, 1)), *claims, spares=spares)
    no_reason = went(Rule.FEWEST_PARCELS, ((1, 2, 1), (2, 4, 1)), *claims, spares=spares)

    assert with_it is WentTo.FEWER_PARCELS
    assert no_reason is not WentTo.FEWER_PARCELS


def test_postage_is_named_only_where_it_would_have_been_more():
    dear = {(1, 2): 700, (1, 3): 300}

    one = went(Rule.POSTAGE, ((1, 2, 1),), ME, OTHERS[0], spares=(a_spare(),), postage=dear)
    other = went(
        Rule.POSTAGE,
        ((1, 2, 1),),
        ME,
        OTHERS[0],
        spares=(a_spare(),),
        postage={(1, 2): 300, (1, 3): 300},
    )

    assert (one, other) == (WentTo.LESS_POSTAGE, WentTo.BY_RULES)


def test_parcels_and_the_draw_are_said_only_where_they_decided():
    spares = (a_spare(),)

    assert went(None, ((1, 2, 1),), ME, OTHERS[0], spares=spares) is WentTo.BY_RULES


@pytest.mark.parametrize("number", [str(one) for one in range(8)])
def test_the_draw_is_named_where_all_is_equal_and_the_winner_drew_more(number):
    larger = drawn(number, 2, 1) > drawn(number, 1, 1)

    found = went(Rule.DRAW, ((1, 2, 1),), ME, OTHERS[0], spares=(a_spare(),), draw_number=number)

    assert found is (WentTo.DRAWN if larger else WentTo.BY_RULES)


def test_where_one_of_two_was_drawn_and_the_other_had_put_it_higher_both_are_told():
    claims = (replace(ME, choice=2), replace(OTHERS[0], choice=1), replace(OTHERS[1], choice=2))
    number = next(str(one) for one in range(50) if drawn(str(one), 3, 1) > drawn(str(one), 1, 1))

    assert went(Rule.DRAW, BOTH, *claims, draw_number=number) is WentTo.LAST_DRAWN


RARE = (a_variety(must_not_be_lost=True),)
WARM_THERE = (
    Shelter(2, ShelterKind.COLD),
    Shelter(3, ShelterKind.INDOORS),
    Shelter(4, ShelterKind.INDOORS),
)
COLD_TOO = (*WARM_THERE[:2], Shelter(4, ShelterKind.COLD))


def test_a_variety_that_must_not_be_lost_goes_where_it_is_safer():
    rule = Rule.MUST_NOT_BE_LOST

    assert went(rule, BOTH, varieties=RARE, shelters=WARM_THERE) is WentTo.SAFER_PLACES
    assert went(rule, BOTH, varieties=RARE, shelters=COLD_TOO) is WentTo.BY_RULES
    assert went(rule, BOTH, shelters=WARM_THERE) is WentTo.BY_RULES


def test_a_variety_that_must_not_be_lost_goes_where_there_was_none():
    def kept_at(*places):
        return tuple(Batch(one, 1, one, one, Material.ROOTED, Raised.COOL, 2) for one in places)

    rule = Rule.MUST_NOT_BE_LOST

    assert went(rule, BOTH, varieties=RARE, batches=kept_at(2)) is WentTo.NEW_PLACES
    assert went(rule, BOTH, varieties=RARE) is WentTo.BY_RULES
    assert went(rule, BOTH, varieties=RARE, batches=kept_at(2, 4)) is WentTo.BY_RULES


def test_where_the_rules_own_statement_fails_the_next_true_one_is_made():
    claims = (replace(ME, choice=2), *OTHERS)

    assert went(Rule.FAIR, BOTH, *claims) is WentTo.HIGHER_WISH


def test_nobody_whom_it_went_to_has_more():
    claims = (replace(ME, asked=3), replace(OTHERS[0], asked=2), a_claim(4, household=3, variety=2))
    claims = (*claims, a_claim(5, household=4, variety=2))
    spares = (a_spare(count=4), a_spare(2, variety=2))

    found = went(None, ((1, 1, 2), (1, 2, 2), (2, 4, 1)), *claims, spares=spares)

    assert found is WentTo.NO_MORE_THAN_YOU


def test_what_the_organiser_chose_is_not_said_to_be_by_the_rules():
    for pins in (BOTH, BOTH[:1], BOTH[1:]):
        chosen = tuple(Allocation(*one) for one in pins)
        assert went(Rule.DRAW, BOTH, pins=chosen) is WentTo.NONE_LEFT


def test_where_plants_are_left_nothing_is_said_of_where_they_went():
    assert went(Rule.WISHES, ((1, 2, 1),), replace(ME, choice=2), *OTHERS) is None


def test_what_came_to_the_household_alone_is_told_so():
    mine = (replace(ME, asked=3), a_claim(5, household=2))

    assert went(None, ((1, 1, 2),), *mine) is WentTo.ALL_GIVEN
    assert went(None, ((1, 1, 1), (1, 5, 1)), *mine) is WentTo.OWN_CLAIM
