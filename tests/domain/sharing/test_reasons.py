"""The parts of a reason: what was offered, how far a claim is met, and what an obstacle's own table says."""

from dataclasses import replace
from datetime import date

import pytest

from exchange.domain.circle.border import BorderRow, Passage
from exchange.domain.growing.batch import Material, Raised
from exchange.domain.growing.shelter import Shelter, ShelterKind
from exchange.domain.sharing import reasons as module
from exchange.domain.sharing.case import Allocation, SharingTerms
from exchange.domain.sharing.reason import ClaimOutcome, ClaimReason, Obstacle, Rule, WentTo
from exchange.domain.sharing.share_out import work_out
from tests.builders.circles import a_case, a_claim, a_spare, a_variety

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


def test_room_is_named_where_plants_are_left_and_the_household_may_have_one_more():
    shelters = (Shelter(2, ShelterKind.INDOORS, 1),)
    spares = (a_spare(), a_spare(2, variety=2))
    claims = (a_claim(choice=2), a_claim(2, variety=2))

    reason = found(*claims, spares=spares, shelters=shelters, terms=SharingTerms(most_contested=1))[
        1
    ]

    assert reason.obstacle is Obstacle.ROOM


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


@pytest.mark.parametrize(("columns", "sure"), [(2, True), (1, False)])
def test_where_there_are_too_many_lost_claims_their_rule_is_not_said_to_be_sure(
    monkeypatch, columns, sure
):
    monkeypatch.setattr(module, "LOST_COLUMNS", columns)
    # one claim is lost, of two that could have had the one spare
    claims = (a_claim(), a_claim(2, household=3))

    reasons = found(*claims)

    lost = [one for one in reasons.values() if one.rule is not None]
    assert [one.sure for one in lost] == [sure]
