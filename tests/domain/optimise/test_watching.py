"""A long search ends when its bound is near enough or it has asked often enough, and at once when a person says so."""

from itertools import combinations

import pytest

from exchange.domain.optimise.grid import make_grid, programme, whole_face
from exchange.domain.optimise.programme import Stopped, never_stop
from exchange.domain.optimise.watching import SearchLimit

SIZES, WORTH, ROOM = (3, 4, 5, 6, 7, 8, 9), (4, 5, 6, 8, 9, 10, 11), 17


def a_knapsack():
    """Seven things, more than fit, so that the solver must leave some out."""
    grid = make_grid([list(enumerate(SIZES))], [ROOM], [1] * 7)
    return programme(grid, whole_face(grid), WORTH)


def most_worth():
    """What the best choice of things is worth, by trying all."""
    every = (those for count in range(8) for those in combinations(range(7), count))
    fitting = (those for those in every if sum(SIZES[one] for one in those) <= ROOM)
    return max(sum(WORTH[one] for one in those) for those in fitting)


def test_a_search_goes_on_until_the_bound_is_near_the_answer_known():
    enough = SearchLimit(never_stop, 100, 5.0, 1000)

    assert not enough("parcels", None, None)
    assert not enough("parcels", None, 110.0)
    assert enough("parcels", None, 105.0)


def test_a_better_answer_of_the_search_itself_counts_too():
    enough = SearchLimit(never_stop, 100, 5.0, 1000)

    assert not enough("parcels", 104.0, 110.0)
    assert enough("parcels", 105.0, None)


def test_without_any_answer_a_search_does_not_end_however_often_it_asks():
    enough = SearchLimit(never_stop, None, 5.0, 2)

    assert not any(enough("parcels", None, 50.0) for _ in range(10))


def test_with_an_answer_it_ends_when_it_has_asked_often_enough():
    enough = SearchLimit(never_stop, 1, 0.5, 2)

    assert [enough("parcels", None, 50.0) for _ in range(3)] == [False, False, True]


def test_who_watches_is_told_the_answer_known_and_the_best_bound():
    told = []
    enough = SearchLimit(lambda *what: told.append(what), 100, 5.0, 1000)

    enough("parcels", None, 120.0)
    enough("parcels", 90.0, 130.0)

    assert told == [("parcels", 100, 120.0), ("parcels", 100, 120.0)]


def test_a_search_that_ends_by_itself_gives_its_answer_and_bound():
    enough = SearchLimit(never_stop, None, 0.999, 1000)

    answer = enough.whole(a_knapsack(), "parcels", 1000)

    assert answer is not None
    assert answer.value == most_worth()
    assert enough.bound == pytest.approx(most_worth())


def test_a_person_who_says_stop_stops_everything_and_a_search_far_enough_only_itself():
    def stop(_stage, _value, _bound):
        return True

    with pytest.raises(Stopped):
        SearchLimit(stop, None, 0.999, 1000).whole(a_knapsack(), "parcels", 1000)
    assert SearchLimit(never_stop, 20, 100.0, 0).whole(a_knapsack(), "parcels", 1000) is None
