"""A claim that nothing offered can meet says why, and which one change of it would help."""

from dataclasses import replace
from datetime import date, timedelta

import pytest

from exchange.domain.circle.border import BorderRow, Passage
from exchange.domain.growing.batch import Material, Raised
from exchange.domain.growing.shelter import Shelter, ShelterKind
from exchange.domain.sharing.claim_obstacle import claim_obstacle
from exchange.domain.sharing.pairing import pair_up
from exchange.domain.sharing.reason import Obstacle
from tests.builders.circles import (
    CLOSES,
    a_case,
    a_claim,
    a_place,
    a_spare,
    a_variety,
    middling_circle,
)

DAY = timedelta(days=1)
BLOCKED = BorderRow("GB", "NI", Passage.BLOCKED, "Ask first.", "the plant health service")
TWO_PLACES = (a_place(1, 1), a_place(2, 2), a_place(9, 2))


def found(*spares, claim=None, **more):
    claim = claim or a_claim()
    case = a_case(spares=spares or (a_spare(),), claims=(claim,), **more)
    return claim_obstacle(case, claim)


def obstacle(*spares, **more):
    return found(*spares, **more).reason.obstacle


def test_where_something_can_go_nothing_is_said():
    assert found(a_spare(material=Material.STOOL), a_spare(2)) is None


def test_a_claim_that_could_be_met_in_part_is_not_told_that_nothing_can_meet_it():
    assert found(a_spare(), claim=a_claim(asked=9)) is None


def test_an_alternative_that_can_go_is_enough():
    assert found(a_spare(variety=3), claim=a_claim(alternatives=(3,))) is None


def test_nobody_offers_it():
    assert obstacle(a_spare(variety=3)) is Obstacle.NOBODY_OFFERS


def test_the_material_that_is_offered_is_the_change():
    claim = a_claim()

    said = found(a_spare(material=Material.UNROOTED), claim=claim)

    assert said.reason.obstacle is Obstacle.MATERIAL
    assert said.change == replace(claim, materials=claim.materials | {Material.UNROOTED})


@pytest.mark.parametrize("materials", [frozenset({Material.CLUMP}), frozenset(Material)])
def test_seed_is_no_change(materials):
    said = found(a_spare(material=Material.SEED), claim=a_claim(materials=materials))

    assert (said.reason.obstacle, said.change) == (Obstacle.MATERIAL, None)


def test_the_earliest_later_day_that_suffices_is_the_change():
    claim = a_claim(no_use_after=CLOSES + DAY)
    spares = [a_spare(one, ready_from=CLOSES + days * DAY) for one, days in ((1, 12), (2, 9))]

    said = found(*spares, claim=claim)

    assert said.reason.obstacle is Obstacle.WINDOW
    assert said.change == replace(claim, no_use_after=CLOSES + 9 * DAY)


def test_a_spare_that_must_go_before_the_closing_day_cannot_be_changed_by_the_claim():
    said = found(a_spare(send_by=CLOSES - DAY), claim=a_claim(no_use_after=CLOSES + DAY))

    assert (said.reason.obstacle, said.change) == (Obstacle.WINDOW, None)


def test_the_day_on_which_a_cold_frame_fits_is_the_later_day():
    claim = a_claim(no_use_after=date(2027, 5, 1))
    spare = a_spare(raised=Raised.IN_HEAT, send_by=date(2027, 6, 1))

    said = found(spare, claim=claim, shelters=(Shelter(2, ShelterKind.COLD),))

    assert said.reason.obstacle is Obstacle.SHELTER
    assert said.change == replace(claim, no_use_after=date(2027, 5, 20))


def test_a_shelter_that_never_fits_in_time_is_told_with_the_day_it_would():
    spare = a_spare(raised=Raised.IN_HEAT, send_by=date(2027, 5, 1))

    said = found(spare, shelters=(Shelter(2, ShelterKind.COLD),))

    assert (said.reason.obstacle, said.reason.fits_from) == (Obstacle.SHELTER, date(2027, 5, 20))
    assert said.change is None


@pytest.mark.parametrize(
    ("what", "more"),
    [
        (Obstacle.BORDER, {"passage": {(1, 2): BLOCKED}}),
        (Obstacle.ROOM, {"shelters": (Shelter(2, ShelterKind.INDOORS, 4),),
                         "taken": {(2, ShelterKind.INDOORS): 4}}),
        (Obstacle.SHELTER, {"shelters": (Shelter(2, ShelterKind.COLD),), "safe_from": {}}),
    ],
)  # fmt: skip
def test_another_place_of_the_household_is_the_change_where_it_has_one(what, more):
    claim = a_claim()
    spare = a_spare(raised=Raised.IN_HEAT)

    alone, two = found(spare, **more), found(spare, claim=claim, places=TWO_PLACES, **more)

    assert (alone.reason.obstacle, alone.change) == (what, None)
    assert (two.reason.obstacle, two.change) == (what, replace(claim, place_id=9))


def test_a_border_names_whom_to_ask():
    assert found(passage={(1, 2): BLOCKED}).reason.authority == "the plant health service"


def test_a_held_variety_names_whom_to_ask():
    said = found(varieties=(a_variety(protected=True, authority="the rights office"),))

    assert (said.reason.obstacle, said.change) == (Obstacle.HELD, None)
    assert said.reason.authority == "the rights office"


def test_ones_own_plants_are_no_offer_and_no_change():
    said = found(a_spare(material=Material.STOOL), claim=a_claim(household=1))

    assert (said.reason.obstacle, said.change) == (Obstacle.OWN_ONLY, None)


def test_two_walls_are_changed_by_one_press():
    claim = a_claim(no_use_after=CLOSES)

    said = found(a_spare(material=Material.STOOL, ready_from=CLOSES + 3 * DAY), claim=claim)

    wider = claim.materials | {Material.STOOL}
    assert said.change == replace(claim, materials=wider, no_use_after=CLOSES + 3 * DAY)


def test_one_change_is_preferred_to_two():
    claim = a_claim(no_use_after=CLOSES)
    far = a_spare(1, material=Material.STOOL, ready_from=CLOSES + 3 * DAY)

    said = found(far, a_spare(2, ready_from=CLOSES + 9 * DAY), claim=claim)

    assert said.change == replace(claim, no_use_after=CLOSES + 9 * DAY)


def test_it_says_what_the_pairing_would_and_every_change_makes_a_pair():
    said, changed = 0, 0
    for number in range(40):
        drawn = middling_circle(number, members=12)
        case = replace(drawn, kept=(), pins=(), forbids=())
        stuck = pair_up(case).obstacles
        for index, claim in enumerate(case.claims):
            there = claim_obstacle(case, claim)
            assert (there is not None) == (index in stuck)
            if there is None:
                continue
            assert there.reason.obstacle is stuck[index][0]
            said += 1
            if there.change is not None:
                changed += 1
                assert not pair_up(replace(case, claims=(there.change,))).obstacles
    assert said > 100
    assert changed > 20
