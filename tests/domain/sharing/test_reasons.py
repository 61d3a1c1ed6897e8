"""The parts of a reason: what was offered, how far a claim is met, and what an obstacle's own table says."""

from dataclasses import replace
from datetime import date, timedelta

import pytest

from exchange.domain.circle.border import BorderRow, Passage
from exchange.domain.growing.batch import Material, Raised
from exchange.domain.growing.fit import OutFrom
from exchange.domain.growing.shelter import Shelter, ShelterKind
from exchange.domain.growing.variety import Species
from exchange.domain.sharing import reasons as module
from exchange.domain.sharing.case import Allocation, SharingTerms
from exchange.domain.sharing.pairing import pair_up
from exchange.domain.sharing.reason import ClaimOutcome, ClaimReason, Obstacle, Rule, WentTo
from exchange.domain.sharing.share_out import work_out
from tests.builders.circles import CLOSES, a_case, a_claim, a_spare, a_variety

NOTED = BorderRow("GB", "NI", Passage.NOTED, "Wash the roots.", "the plant health service")
TUBERS_ONLY = frozenset({Material.POT_TUBER})


def found(*claims, spares=None, **more):
    case = a_case(spares=spares or (a_spare(),), claims=claims or (a_claim(),), **more)
    return work_out(case).reasons


def test_a_claim_that_is_met_has_no_obstacle_and_no_rule_though_plants_are_left():
    assert found(spares=(a_spare(count=3),))[1] == ClaimReason(
        ClaimOutcome.MET, asked=1, given=1, others=0, offered=3, in_all=3
    )


def test_who_was_given_none_was_not_met_and_who_was_given_some_was_met_in_part():
    spares = (a_spare(count=2),)

    reasons = found(a_claim(asked=2), a_claim(2, household=3), spares=spares)
    lost = found(a_claim(materials=TUBERS_ONLY))

    assert [reasons[one].standing for one in (1, 2)] == [ClaimOutcome.PART, ClaimOutcome.MET]
    assert lost[1].standing is ClaimOutcome.UNMET


def test_what_was_offered_counts_the_plants_of_others_and_of_that_variety_only():
    spares = (
        a_spare(count=2),
        a_spare(2, household=2, count=4),
        a_spare(3, variety=2, count=8),
    )

    assert found(a_claim(), a_claim(2, household=3), spares=spares)[1].offered == 2


def test_who_has_one_reads_that_the_rest_went_to_who_had_none():
    spares, terms = (a_spare(count=2),), SharingTerms(most_contested=1)
    claims = (a_claim(asked=2), a_claim(2, household=3))

    reason = found(*claims, spares=spares, terms=terms)[1]

    assert (reason.given, reason.went, reason.winners) == (1, WentTo.HAD_NONE, 1)


def test_offered_are_the_plants_that_could_have_come_and_in_all_those_of_all_others():
    spares = (a_spare(), a_spare(2, household=3, count=4, material=Material.UNROOTED))
    spares += (a_spare(3, household=2, count=8),)

    reason = found(a_claim(asked=2), spares=spares)[1]

    assert (reason.offered, reason.in_all, reason.went) == (1, 5, WentTo.ALL_GIVEN)


def test_who_was_given_it_instead_of_another_counts_among_those_who_asked():
    claims = (a_claim(choice=3), a_claim(2, household=3, variety=2, alternatives=(1,)))

    pinned = found(*claims, pins=(Allocation(1, 2, 1),))[1]

    assert (pinned.others, pinned.went) == (1, WentTo.NONE_LEFT)


def test_who_asked_and_was_given_none_counts_among_those_who_asked():
    claims = (a_claim(), a_claim(2, household=3, choice=2), a_claim(3, household=4, choice=2))

    assert found(*claims)[2].others == 2


def test_only_the_variety_asked_for_is_told_of_where_another_would_do():
    """Of the variety itself nothing is ticked; of what would do instead, the one plant went to another."""
    spares = (a_spare(material=Material.UNROOTED), a_spare(2, variety=2))
    claims = (a_claim(alternatives=(2,), choice=3), a_claim(2, household=3, variety=2))

    reason = found(*claims, spares=spares)[1]

    assert (reason.obstacle, reason.went) == (Obstacle.MATERIAL, None)


def test_that_is_not_told_to_a_household_that_has_none():
    claims = (a_claim(), a_claim(2, household=3))

    reasons = found(*claims, terms=SharingTerms(most_contested=1))

    lost = next(one for one in reasons.values() if not one.given)
    assert (lost.rule, lost.obstacle) == (Rule.DRAW, None)


HEAT = {"raised": Raised.IN_HEAT, "send_by": CLOSES}
"""Needs room indoors."""
ONE_INDOORS = (Shelter(2, ShelterKind.INDOORS, 1), Shelter(2, ShelterKind.COLD, 5))
HARDENED = {"raised": Raised.HARDENED, "send_by": CLOSES + timedelta(days=40)}
"""Will do in the cold, too."""
FILLS_IT = a_spare(9, variety=2, **HEAT), a_claim(9, variety=2)
"""A spare, and the claim by which it takes the one place indoors."""


def test_room_that_another_plant_took_is_named_where_plants_are_left():
    """Of two that could have come the hardened one was given to another, and the other is left."""
    spares = (a_spare(**HEAT), a_spare(2, **HARDENED), FILLS_IT[0])
    claims = (a_claim(choice=2), a_claim(2, household=3), FILLS_IT[1])
    pins = (Allocation(2, 2, 1),)

    reason = found(*claims, spares=spares, shelters=ONE_INDOORS, pins=pins)[1]

    assert (reason.obstacle, reason.rule, reason.went) == (Obstacle.ROOM, None, None)


def test_room_that_stands_taken_by_what_the_organiser_chose_is_named():
    spares, claims = (a_spare(**HEAT), FILLS_IT[0]), (a_claim(), FILLS_IT[1])
    pins = (Allocation(9, 9, 1),)

    reason = found(*claims, spares=spares, shelters=ONE_INDOORS, pins=pins)[1]

    assert reason.obstacle is Obstacle.ROOM


@pytest.mark.parametrize(
    ("second", "obstacle", "went"),
    [(HEAT, Obstacle.ROOM, None), (HARDENED, Obstacle.FEWER, WentTo.NONE_LEFT)],
)
def test_where_none_is_left_room_is_named_if_none_of_it_would_have_found_room(
    second, obstacle, went
):
    spares = (a_spare(**HEAT), a_spare(2, **second), FILLS_IT[0])
    claims = (a_claim(choice=2), a_claim(2, household=3, asked=2, choice=2), FILLS_IT[1])
    pins = (Allocation(1, 2, 1), Allocation(2, 2, 1))

    reason = found(*claims, spares=spares, shelters=ONE_INDOORS, pins=pins)[1]

    assert (reason.obstacle, reason.went) == (obstacle, went)


def test_that_others_put_it_higher_is_told_before_the_want_of_room():
    spares = (a_spare(**HEAT), FILLS_IT[0])
    claims = (a_claim(choice=2), a_claim(2, household=3), FILLS_IT[1])

    reason = found(*claims, spares=spares, shelters=ONE_INDOORS)[1]

    assert (reason.obstacle, reason.went) == (None, WentTo.HIGHER_WISH)


def test_the_obstacle_named_is_that_of_the_spare_that_came_nearest():
    """One could not be posted in time; two came as far as a border, of which the first one's papers are named."""
    late = a_spare(1, household=3, ready_from=CLOSES + timedelta(days=50))
    blocked = replace(NOTED, passage=Passage.BLOCKED)
    passage = {
        (4, 2): replace(blocked, authority="the first service"),
        (5, 2): replace(blocked, authority="the second service"),
    }

    reason = found(spares=(late, a_spare(2, household=4), a_spare(3, household=5)), passage=passage)

    assert (reason[1].obstacle, reason[1].authority) == (Obstacle.BORDER, "the first service")


def test_of_several_spares_without_a_shelter_the_earliest_day_is_told():
    """One of the rest fits on no known day, and one that would fit earlier cannot be posted."""
    kinds = (Raised.IN_HEAT, Raised.COOL)
    spares = tuple(a_spare(one, raised=kind, send_by=CLOSES) for one, kind in enumerate(kinds, 1))
    late = a_spare(3, send_by=CLOSES, ready_from=CLOSES + timedelta(days=1), raised=Raised.HARDENED)

    reason = found(spares=(*spares, late), shelters=(Shelter(2, ShelterKind.COLD),))[1]

    assert (reason.obstacle, reason.fits_from) == (Obstacle.SHELTER, date(2027, 5, 6))


SOME_DAY, NO_DAY = OutFrom(date(2027, 5, 20)), OutFrom()


@pytest.mark.parametrize(("safe_from", "day"), [(SOME_DAY, date(2027, 4, 22)), (NO_DAY, None)])
def test_a_spare_that_fits_on_no_known_day_takes_nothing_from_the_day_of_another(safe_from, day):
    """Warm nights are not known; a dormant tuber does not wait for them."""
    spares = (a_spare(send_by=CLOSES), a_spare(2, send_by=CLOSES, material=Material.POT_TUBER))

    reason = found(
        spares=spares,
        varieties=(a_variety(species=Species.BEGONIA),),
        shelters=(Shelter(2, ShelterKind.COLD),),
        safe_from={2: safe_from},
    )[1]

    assert (reason.obstacle, reason.fits_from) == (Obstacle.SHELTER, day)


def test_the_day_a_shelter_fits_is_that_of_the_receivers_own_shelters():
    spares = (a_spare(raised=Raised.IN_HEAT, send_by=date(2027, 5, 1)),)
    shelters = (Shelter(1, ShelterKind.INDOORS), Shelter(2, ShelterKind.COLD))

    reason = found(spares=spares, shelters=shelters)[1]

    assert (reason.obstacle, reason.fits_from) == (Obstacle.SHELTER, date(2027, 5, 20))


def test_no_caution_authority_or_day_is_told_for_an_obstacle_that_has_none():
    protected_elsewhere = a_variety(authority="the rights office")

    reason = found(
        a_claim(materials=TUBERS_ONLY),
        passage={(1, 2): NOTED},
        varieties=(protected_elsewhere,),
        shelters=(Shelter(2, ShelterKind.INDOORS),),
    )[1]

    assert reason.obstacle is Obstacle.MATERIAL
    assert (reason.caution, reason.authority, reason.fits_from) == ("", "", None)


def test_a_border_that_blocks_tells_its_caution_and_its_authority():
    blocked = replace(NOTED, passage=Passage.BLOCKED)

    reason = found(passage={(1, 2): blocked})[1]

    assert (reason.caution, reason.authority) == ("Wash the roots.", "the plant health service")


@pytest.mark.parametrize(
    ("columns", "sure", "went"), [(2, True, WentTo.DRAWN), (1, False, WentTo.BY_RULES)]
)
def test_where_there_are_too_many_lost_claims_their_rule_is_not_said_to_be_sure(
    monkeypatch, columns, sure, went
):
    monkeypatch.setattr(module, "LOST_COLUMNS", columns)
    # one claim is lost, of two that could have had the one spare
    claims = (a_claim(), a_claim(2, household=3))

    reasons = found(*claims)

    lost = [one for one in reasons.values() if one.rule is not None]
    assert [(one.sure, one.went) for one in lost] == [(sure, went)]


def test_a_rule_that_left_no_freedom_is_told_of_first_though_it_is_not_sure(monkeypatch):
    """It had been given less, too, which is said where no rule is known."""
    monkeypatch.setattr(module, "LOST_COLUMNS", 0)
    claims = (a_claim(choice=2), a_claim(2, household=3), a_claim(3, variety=2))
    case = a_case(spares=(a_spare(), a_spare(2, variety=2)), claims=claims)
    allocations = (Allocation(1, 2, 1), Allocation(2, 3, 1))

    went = [
        module.reasons(case, pair_up(case), allocations, decided, ())[1].went
        for decided in ({0: Rule.WISHES}, {})
    ]

    assert went == [WentTo.HIGHER_WISH, WentTo.GIVEN_LESS]


def test_a_plant_left_where_there_is_room_is_not_said_to_have_found_none(monkeypatch):
    """In a large circle some may be left, since the best share-out is not always found."""
    monkeypatch.setattr(module, "LOST_COLUMNS", 0)
    case = a_case(spares=(a_spare(),), claims=(a_claim(),))

    reason = module.reasons(case, pair_up(case), (), {}, ())[1]

    assert (reason.obstacle, reason.went) == (None, None)
