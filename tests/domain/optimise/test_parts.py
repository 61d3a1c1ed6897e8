"""A large programme searched part by part: its answer holds, its bound is proven by its duals, and it ends the same way each time."""

import random

import numpy as np
import pytest

from exchange.domain.optimise import parts
from exchange.domain.optimise.grid import dual_bound, holds, make_grid, reduced_costs, whole_face
from exchange.domain.optimise.parts import Ends, SearchHints, best_in_parts, bound_by_duals
from exchange.domain.optimise.programme import Aim, Stopped, never_stop
from exchange.domain.optimise.whole import best_whole


def a_market(number=1, senders=9, receivers=9):
    """Senders with two lots each, receivers who want some; a parcel for every two ends. Columns: plants, then parcels."""
    chance = random.Random(number)
    lots = [(sender, chance.randint(1, 4)) for sender in range(senders) for _ in range(2)]
    wants = [chance.randint(1, 3) for _ in range(receivers)]
    plants = [
        (lot, receiver)
        for lot in range(len(lots))
        for receiver in range(receivers)
        if chance.random() < 0.6
    ]
    ends = sorted({(lots[lot][0], receiver) for lot, receiver in plants})
    parcel = {one: len(plants) + number for number, one in enumerate(ends)}
    rows, limits = [], []
    for lot, (_, count) in enumerate(lots):
        rows.append([(column, 1) for column, (one, _) in enumerate(plants) if one == lot])
        limits.append(count)
    supply = len(rows)
    for receiver, count in enumerate(wants):
        rows.append([(column, 1) for column, (_, one) in enumerate(plants) if one == receiver])
        limits.append(count)
    for column, (lot, receiver) in enumerate(plants):
        rows.append([(column, 1), (parcel[lots[lot][0], receiver], -3)])
        limits.append(0)
    grid = make_grid(rows, limits, [3] * len(plants) + [1] * len(ends))
    face = whole_face(grid)
    # What receivers want must be met: as many lots as there are stand open for it.
    face.equal[supply : supply + receivers] = True
    cost = np.array([0] * len(plants) + [-1] * len(ends))
    found = Ends(
        np.array([lots[lot][0] for lot, _ in plants]),
        np.array([receiver for _, receiver in plants]),
        np.array([parcel[lots[lot][0], receiver] for lot, receiver in plants]),
    )
    return grid, face, cost, found


def searched(number, watch=never_stop):
    grid, face, cost, ends = a_market(number)
    return best_in_parts(grid, face, Aim("test", cost, watch), SearchHints(ends), None)


@pytest.fixture
def in_small_parts(monkeypatch):
    monkeypatch.setattr(parts, "CHOICES", 40)


@pytest.mark.parametrize("number", range(12))
def test_the_answer_holds_and_lies_between_the_best_and_a_proven_bound(in_small_parts, number):
    grid, face, cost, ends = a_market(number)
    best = best_whole(grid, face, Aim("test", cost, never_stop), SearchHints(ends))
    assert best.bound == best.value

    x, leaf = searched(number)

    assert holds(grid, face, x)
    assert int(cost @ x) <= best.value <= leaf.bound
    assert int(cost @ x) >= 1.25 * best.value
    reduced = reduced_costs(grid, cost * leaf.scale, leaf.duals)
    assert dual_bound(grid, face, reduced, leaf.duals) // leaf.scale == leaf.bound


def test_parts_make_the_first_answer_better(in_small_parts, monkeypatch):
    def parcels():
        every = [a_market(number)[2] @ searched(number)[0] for number in range(12)]
        return [-int(one) for one in every]

    found = parcels()
    monkeypatch.setattr(parts, "PASSES", 0)
    first = parcels()
    assert sum(found) < sum(first)
    assert all(one <= two for one, two in zip(found, first, strict=True))


def test_the_same_programme_ends_the_same_way(in_small_parts):
    (one, leaf), (two, other) = searched(3), searched(3)
    assert (one == two).all()
    assert (leaf.duals == other.duals).all()


def test_who_watches_is_told_the_value_against_the_bound(in_small_parts):
    told = []

    def watch(_stage, value, bound):
        told.append((value, bound))
        return False

    _, leaf = searched(3, watch)

    known = [one for one in told if one[0] is not None]
    assert known
    assert {bound for _, bound in known} == {leaf.bound}
    assert [value for value, _ in known] == sorted(value for value, _ in known)


@pytest.mark.parametrize("at", [1, 2, 5, 9])
def test_it_is_stopped_wherever_it_is(in_small_parts, at):
    asked = []

    def stop(*_told):
        asked.append(1)
        return len(asked) >= at

    with pytest.raises(Stopped):
        searched(3, stop)
    assert len(asked) <= at + 2


def test_an_interior_point_is_stopped_on_its_way():
    grid, face, cost, _ = a_market(1, 30, 30)
    asked = []

    def stop(*_told):
        asked.append(1)
        return len(asked) > 1

    with pytest.raises(Stopped):
        bound_by_duals(grid, face, Aim("test", cost, stop))
    assert len(asked) >= 2
