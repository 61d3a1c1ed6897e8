from datetime import timedelta
from itertools import product

import numpy as np
import pytest

from exchange.domain.growing.shelter import Shelter, ShelterKind
from exchange.domain.optimise.assignment import Limit, assign
from exchange.domain.posting.choose_days import choose_days, no_day_cost, option_cost
from exchange.domain.posting.options import Option, cases
from exchange.domain.posting.packing import packing
from exchange.domain.posting.transit import ArrivalChance
from tests.builders.posting import MONDAY, NOW, a_household, a_line, a_parcel, facts, first_class


def an_option(number, offset, lost=0.01, way=None):
    day = MONDAY + timedelta(days=offset)
    coming = (ArrivalChance(day + timedelta(days=1), 1.0),)
    box = packing("shoe_box")
    return Option(number, day, offset, way or first_class(), coming, box, lost, lost, 5, 4)


def a_circle(seed):
    chance = np.random.default_rng(seed)
    parcels = [
        a_parcel(
            n,
            lines=(
                a_line(
                    n,
                    count=int(chance.integers(1, 3)),
                    variety_id=int(chance.integers(2)),
                    must_not_be_lost=bool(chance.random() < 0.4),
                ),
            ),
            sender_household_id=int(chance.integers(1, 3)),
            receiver_household_id=3,
            receiver_place_id=3,
        )
        for n in range(1, 5)
    ]
    around = facts(
        parcels,
        households={n: a_household(n, parcels_a_day=1) for n in (1, 2, 3)},
        shelters=(Shelter(3, ShelterKind.HEATED, room_pots=5),),
        room_taken={3: {MONDAY: 2, MONDAY + timedelta(days=3): int(chance.integers(3))}},
    )
    options = {
        n: [
            an_option(n, offset, float(chance.gamma(0.5, 0.1)), first_class(way, postage=100 * way))
            for offset in range(4)
            for way in (1, 2)
            if chance.random() < 0.7
        ]
        for n in range(1, 5)
    }
    return cases(parcels, around, NOW), options, around


def kept_rules(laid, picked, around):
    """Check a choice against every limit, the plain way."""
    chosen = [(case, one) for case, one in zip(laid, picked, strict=True) if one is not None]
    for day in {one.day for _, one in chosen}:
        there = [case.parcel for case, one in chosen if one.day == day]
        senders = [parcel.sender_household_id for parcel in there]
        kept = [x.variety_id for parcel in there for x in parcel.lines if x.must_not_be_lost]
        if len(set(senders)) < len(senders) or len(set(kept)) < len(kept):
            return False
    for day in {one.coming[0].day for _, one in chosen}:
        arrived = sum(
            line.count
            for case, one in chosen
            if one.coming[0].day <= day
            for line in case.parcel.lines
        )
        if arrived > max(5 - around.taken(3, day), 0):
            return False
    return True


@pytest.mark.parametrize("seed", range(25))
def test_the_choice_is_the_best_of_all_that_keep_the_rules(seed):
    laid, options, around = a_circle(seed)
    best = min(
        sum(
            no_day_cost(case, around) if one is None else option_cost(case, one, around)
            for case, one in zip(laid, picked, strict=True)
        )
        for picked in product(*([*options[case.parcel.id], None] for case in laid))
        if kept_rules(laid, picked, around)
    )
    found = choose_days(laid, options, around)
    assert found.cost == best
    assert found.proven
    assert kept_rules(laid, [found.options[case.parcel.id] for case in laid], around)


def test_risk_goes_before_postage_and_postage_before_a_day():
    laid = cases([a_parcel(1)], facts(), NOW)
    dear = first_class(1, postage=900)
    cheap = first_class(2, postage=100)

    def cost(lost, way):
        return option_cost(laid[0], an_option(1, 0, lost, way), facts())

    assert cost(0.0100, dear) < cost(0.0102, cheap)
    assert cost(0.01, cheap) < cost(0.01, dear)


def test_what_cannot_go_is_left_without_a_day():
    laid = cases([a_parcel(1)], facts(), NOW)
    assert choose_days(laid, {1: []}, facts()).options == {1: None}


def test_an_assignment_that_breaks_a_limit_is_never_given_out():
    answer = assign([[0, 1], [2, 3]], [1, 5, 1, 5], [Limit((0, 2), (1, 1), 1)])
    assert answer.cost == 6
    assert {0, 2} != set(answer.chosen)
    assert assign([], [], []).chosen == ()
