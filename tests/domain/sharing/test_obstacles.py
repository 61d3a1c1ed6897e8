"""Every claim gets a reason: what stood in the way, or the rule it was lost under."""

from dataclasses import replace
from datetime import date, timedelta

import pytest

from exchange.domain.circle.border import BorderRow, Passage
from exchange.domain.circle.household import Household
from exchange.domain.growing.batch import Material, Raised
from exchange.domain.growing.shelter import Shelter, ShelterKind
from exchange.domain.sharing.case import MOST_PLANTS, Allocation, SharingTerms
from exchange.domain.sharing.quantities import PinRefused, Remark, WrongQuantity, remarks
from exchange.domain.sharing.reason import ClaimOutcome, Obstacle, Rule, WentTo
from exchange.domain.sharing.share_out import Stopped, work_out
from tests.builders.circles import (
    CLOSES,
    a_case,
    a_claim,
    a_place,
    a_spare,
    a_variety,
    middling_circle,
)

BLOCKED = BorderRow("GB", "NI", Passage.BLOCKED, "Ask first.", "the plant health service")


def reason(**more):
    """Give the reason of claim 1 by household 2 for a spare of household 1."""
    usual = {"spares": (a_spare(),), "claims": (a_claim(),)}
    return work_out(a_case(**{**usual, **more})).reasons[1]


def test_a_claim_for_a_listed_spare_is_met():
    assert reason().standing is ClaimOutcome.MET


def test_nobody_offers_it():
    assert reason(spares=(a_spare(variety=2),)).obstacle is Obstacle.NOBODY_OFFERS


def test_only_ones_own_is_offered():
    assert reason(claims=(a_claim(household=1),)).obstacle is Obstacle.OWN_ONLY


def test_ones_own_is_not_asked_for_by_ones_other_place():
    places = (a_place(1, household=1), a_place(9, household=1))
    claims = (a_claim(household=1, place_id=9),)
    assert reason(claims=claims, places=places).obstacle is Obstacle.OWN_ONLY


def test_the_material_is_not_taken():
    claims = (a_claim(materials=frozenset({Material.POT_TUBER})),)
    assert reason(claims=claims).obstacle is Obstacle.MATERIAL


def test_seedlings_never_fill_a_named_variety():
    spares = (a_spare(material=Material.SEED),)
    claims = (a_claim(materials=frozenset(Material)),)
    assert reason(spares=spares, claims=claims).obstacle is Obstacle.MATERIAL


@pytest.mark.parametrize(
    ("spare", "claim"),
    [
        ({"send_by": CLOSES - timedelta(days=1)}, {}),
        ({"ready_from": CLOSES + timedelta(days=9)}, {"no_use_after": CLOSES}),
        ({"ready_from": CLOSES + timedelta(days=9), "send_by": CLOSES}, {}),
    ],
)
def test_windows_that_do_not_meet(spare, claim):
    found = reason(spares=(a_spare(**spare),), claims=(a_claim(**claim),))
    assert found.obstacle is Obstacle.WINDOW


def test_a_border_that_blocks_names_the_authority_and_nobody_else():
    found = reason(passage={(1, 2): BLOCKED})
    assert (found.obstacle, found.authority) == (Obstacle.BORDER, "the plant health service")


def test_a_border_with_a_note_only_does_not_block():
    assert reason(passage={(1, 2): replace(BLOCKED, passage=Passage.NOTED)}).given == 1


def test_a_cold_frame_does_not_fit_stock_raised_in_heat_and_the_first_fit_day_is_told():
    spares = (a_spare(raised=Raised.IN_HEAT, send_by=date(2027, 5, 1)),)
    found = reason(spares=spares, shelters=(Shelter(2, ShelterKind.COLD),))
    assert (found.obstacle, found.fits_from) == (Obstacle.SHELTER, date(2027, 5, 20))


def test_an_unfit_shelter_moves_the_date_rather_than_refusing():
    spares = (a_spare(raised=Raised.IN_HEAT, send_by=date(2027, 6, 1)),)
    assert reason(spares=spares, shelters=(Shelter(2, ShelterKind.COLD),)).given == 1


def test_no_room():
    shelters = (Shelter(2, ShelterKind.INDOORS, 4),)
    found = reason(shelters=shelters, taken={(2, ShelterKind.INDOORS): 4})
    assert found.obstacle is Obstacle.ROOM


def test_room_taken_by_another_claim_of_ones_own_is_named_too():
    shelters = (Shelter(2, ShelterKind.INDOORS, 1),)
    spares = (a_spare(), a_spare(2, variety=2))
    claims = (a_claim(choice=2), a_claim(2, variety=2))
    assert reason(spares=spares, claims=claims, shelters=shelters).obstacle is Obstacle.ROOM


def test_a_protected_variety_is_held_and_the_authority_named():
    held = a_variety(protected=True, authority="the rights office")
    found = reason(varieties=(held,))
    assert (found.obstacle, found.authority) == (Obstacle.HELD, "the rights office")


def test_a_member_who_left_neither_gives_nor_receives():
    for left in (1, 2):
        homes = tuple(Household(one, f"Household {one}", left=one == left) for one in (1, 2))
        assert reason(households=homes).obstacle is Obstacle.LEFT


def test_what_the_organiser_forbids_is_kept_apart():
    assert reason(forbids=((1, 1),)).obstacle is Obstacle.FORBIDDEN


def test_at_most_so_many_of_a_contested_variety():
    claims = (a_claim(asked=4), a_claim(2, household=3))
    for plants, got in ((2, 1), (3, 2)):
        spares = (a_spare(count=plants),)
        found = reason(spares=spares, claims=claims, terms=SharingTerms(most_contested=1))
        assert (found.given, found.went) == (got, WentTo.HAD_NONE)


def test_fewer_are_offered_than_asked():
    found = reason(claims=(a_claim(asked=2),))
    assert (found.standing, found.went) == (ClaimOutcome.PART, WentTo.ALL_GIVEN)


def test_a_first_plant_comes_before_a_second():
    spares = (a_spare(count=2),)
    claims = (a_claim(asked=2), a_claim(2, household=3))
    found = work_out(a_case(spares=spares, claims=claims))
    assert [found.reasons[one].given for one in (1, 2)] == [1, 1]
    assert found.reasons[1].rule is Rule.ONE_EACH


def test_a_plain_tie_is_told_to_be_the_draw():
    spares = (a_spare(),)
    claims = (a_claim(), a_claim(2, household=3))
    found = work_out(a_case(spares=spares, claims=claims))
    lost = next(one for one in found.reasons.values() if not one.given)
    assert (lost.rule, lost.others) == (Rule.DRAW, 1)


def test_a_higher_wish_wins_over_a_lower_one():
    claims = (a_claim(choice=2), a_claim(2, household=3, choice=1))
    assert reason(claims=claims).rule is Rule.WISHES


@pytest.mark.parametrize("choice", [1, 2, 3])
def test_who_asked_for_a_variety_itself_comes_before_who_would_take_it_instead(choice):
    """There are two plants: one for each who asked, and none for the second claim of one of them."""
    claims = (
        a_claim(),
        a_claim(2, variety=2, alternatives=(1,)),
        a_claim(3, household=3, choice=choice),
    )
    found = work_out(a_case(spares=(a_spare(count=2),), claims=claims))
    assert [found.reasons[one].given for one in (1, 2, 3)] == [1, 0, 1]


def test_what_nobody_asked_for_goes_to_who_would_take_it_instead():
    assert reason(claims=(a_claim(variety=2, alternatives=(1,)),)).given == 1


def test_a_spare_nobody_else_wants_goes_to_a_third_choice_that_names_it_last_of_forty():
    claims = (a_claim(choice=3, alternatives=tuple(range(2, 42))),)
    assert reason(spares=(a_spare(variety=41),), claims=claims).standing is ClaimOutcome.MET


def test_who_has_given_more_comes_before_who_received_more_by_a_bounded_shift():
    claims = (a_claim(choice=1), a_claim(2, household=3, choice=3))
    case = a_case(spares=(a_spare(),), claims=claims, given={3: 2}, received={2: 2})
    assert work_out(case).reasons[2].given == 1
    assert work_out(replace(case, terms=SharingTerms(shift=0))).reasons[1].given == 1


def test_what_must_not_be_lost_goes_where_it_is_safest():
    shelters = (Shelter(2, ShelterKind.COLD, carried_in=True), Shelter(3, ShelterKind.INDOORS))
    claims = (a_claim(choice=1), a_claim(2, household=3, choice=3))
    rare = (a_variety(must_not_be_lost=True),)
    found = reason(claims=claims, varieties=rare, shelters=shelters)
    assert found.rule is Rule.MUST_NOT_BE_LOST


def test_two_plants_of_what_must_not_be_lost_travel_in_two_parcels():
    rare = (a_variety(must_not_be_lost=True),)
    case = a_case(spares=(a_spare(count=2),), claims=(a_claim(asked=2),), varieties=rare)
    assert work_out(case).rules[4].value == 2
    assert work_out(replace(case, varieties=(a_variety(),))).rules[4].value == 1


def test_no_spares_no_claims_and_only_ones_own_are_remarked_on_and_come_to_nothing():
    for more, remark in (
        ({"claims": (a_claim(),)}, Remark.NO_SPARES),
        ({"spares": (a_spare(),)}, Remark.NO_CLAIMS),
        ({"spares": (a_spare(),), "claims": (a_claim(household=1),)}, Remark.ONLY_OWN),
        ({"spares": (a_spare(variety=2),), "claims": (a_claim(),)}, Remark.NOTHING_MEETS),
    ):
        case = a_case(**more)
        assert remarks(case) == (remark,)
        assert work_out(case).allocations == ()


@pytest.mark.parametrize("plants", [0, -1, 10**9])
def test_an_impossible_number_of_plants_is_refused_in_a_sentence(plants):
    with pytest.raises(WrongQuantity, match=r"number of plants of spare 1"):
        work_out(a_case(spares=(a_spare(count=plants),), claims=(a_claim(),)))
    with pytest.raises(WrongQuantity, match=r"number of plants of claim 1"):
        work_out(a_case(spares=(a_spare(),), claims=(a_claim(asked=plants),)))


def test_the_largest_number_of_plants_is_worked_out():
    case = a_case(spares=(a_spare(count=MOST_PLANTS),), claims=(a_claim(asked=MOST_PLANTS),))
    assert work_out(case).reasons[1].given == MOST_PLANTS


def test_a_pin_is_kept_and_the_rest_worked_out_around_it():
    claims = (a_claim(choice=3), a_claim(2, household=3, choice=1))
    case = a_case(spares=(a_spare(),), claims=claims)
    assert work_out(replace(case, pins=(Allocation(1, 1, 1),))).allocations == (
        Allocation(1, 1, 1),
    )


@pytest.mark.parametrize("pin", [Allocation(1, 1, 2), Allocation(9, 1, 1), Allocation(1, 9, 1)])
def test_a_pin_that_cannot_be_is_refused(pin):
    with pytest.raises(PinRefused):
        reason(pins=(pin,))


def test_stopping_decides_nothing():
    with pytest.raises(Stopped):
        work_out(middling_circle(2, 30), lambda _stage, _value, _bound: True)
