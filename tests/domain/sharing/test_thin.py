"""Parcels of one plant: which they are, which cost most, and what leaving each out would lose."""

from dataclasses import replace

import pytest

from exchange.domain.sharing.measure import measure
from exchange.domain.sharing.pairing import pair_up
from exchange.domain.sharing.rules import values
from exchange.domain.sharing.share_out import work_out
from exchange.domain.sharing.thin import MOST_SHOWN, thin_parcels
from tests.builders.circles import a_case, a_claim, a_spare, middling_circle

ALL = 1000


def worked_out(case):
    return case, work_out(case).allocations


@pytest.mark.parametrize("number", range(6))
def test_each_is_alone_between_its_ends_and_the_rule_named_is_the_first_that_falls(number):
    case, given = worked_out(middling_circle(number + 300, 14))
    senders = {one.id: one.household_id for one in case.spares}
    places = {one.id: one.place_id for one in case.claims}
    what = measure(case, pair_up(case))
    before = values(case, given, what)

    thin = thin_parcels(case, given, ALL)

    for one in thin:
        ends = senders[one.spare_id], places[one.claim_id]
        with_it = [
            other for other in given if (senders[other.spare_id], places[other.claim_id]) == ends
        ]
        assert [(other.spare_id, other.claim_id, other.count) for other in with_it] == [
            (one.spare_id, one.claim_id, 1)
        ]
        after = values(case, [other for other in given if other not in with_it], what)
        assert after[one.rule - 1] < before[one.rule - 1]
        assert after[: one.rule - 1] == before[: one.rule - 1]
        assert after[4] == before[4] - 1, "and one parcel is saved"


def test_the_dearest_come_first_and_no_more_than_five():
    middling = middling_circle(305, 14)
    places = {one.place_id for one in middling.claims}
    senders = {one.household_id for one in middling.spares}
    postage = {(sender, place): 100 + 7 * place for sender in senders for place in places}
    case, given = worked_out(replace(middling, postage=postage))

    every, shown = thin_parcels(case, given, ALL), thin_parcels(case, given)

    costs = [one.postage for one in every]
    assert costs == sorted(costs, reverse=True)
    assert shown == every[:MOST_SHOWN]


def test_without_tariffs_nothing_is_said_of_cost_and_a_third_choice_comes_before_a_first():
    spares = (a_spare(1, variety=1), a_spare(2, variety=2))
    claims = (a_claim(1, 2, 1, choice=1), a_claim(2, 3, 2, choice=3))
    case, given = worked_out(a_case(spares=spares, claims=claims))

    thin = thin_parcels(case, given)

    assert [(one.claim_id, one.postage, one.choice) for one in thin] == [(2, None, 3), (1, None, 1)]


def test_two_plants_to_one_place_are_no_thin_parcel():
    case, given = worked_out(a_case(spares=(a_spare(count=2),), claims=(a_claim(asked=2),)))

    assert sum(one.count for one in given) == 2
    assert thin_parcels(case, given) == ()


def test_nothing_given_has_no_parcels():
    assert thin_parcels(a_case(), ()) == ()
