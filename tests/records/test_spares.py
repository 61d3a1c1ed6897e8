"""Plants of a spare are taken and given back at the one row that is meant, and never too many."""

import pytest

from exchange.records import SPARES, circles
from exchange.records.spares import NotEnoughLeftError, give_back, take
from tests.app_fixtures import NOW
from tests.builders.offers import a_spare, a_variety


@pytest.fixture
def spares(circle):
    """Give two spares of three plants each."""
    variety_id = a_variety(circle)
    return [a_spare(circle, who, variety_id, count=3) for who in ("Cuthbert", "Effie")]


def taken(tx, circle, spares):
    return [SPARES.get(tx, circle.circle_id, one).allocated for one in spares]


def stamp(tx, circle):
    return circles.get(tx, circle.circle_id).stamp


def test_plants_are_taken_to_the_last_one_and_from_no_other_spare(spares, tx, circle):
    take(tx, circle.circle_id, spares[0], 2)
    take(tx, circle.circle_id, spares[0], 1)

    assert taken(tx, circle, spares) == [3, 0]


def test_more_than_are_left_cannot_be_taken(spares, tx, circle):
    take(tx, circle.circle_id, spares[0], 2)

    with pytest.raises(NotEnoughLeftError, match=r"fewer than 2 plants"):
        take(tx, circle.circle_id, spares[0], 2)

    assert taken(tx, circle, spares) == [2, 0]


def test_nothing_can_be_taken_of_a_spare_that_was_withdrawn(spares, tx, circle):
    SPARES.change(tx, circle.circle_id, spares[0], withdrawn_at=NOW)

    with pytest.raises(NotEnoughLeftError):
        take(tx, circle.circle_id, spares[0], 1)


def test_another_circle_takes_nothing_and_gives_nothing_back(spares, tx, circle, other):
    take(tx, circle.circle_id, spares[0], 1)

    with pytest.raises(NotEnoughLeftError):
        take(tx, other.circle_id, spares[0], 1)
    give_back(tx, other.circle_id, spares[0], 1)

    assert taken(tx, circle, spares) == [1, 0]


def test_what_is_given_back_is_free_again_and_never_more_than_was_taken(spares, tx, circle):
    for one in spares:
        take(tx, circle.circle_id, one, 2)

    give_back(tx, circle.circle_id, spares[0], 2)
    give_back(tx, circle.circle_id, spares[1], 3)

    assert taken(tx, circle, spares) == [0, 2]


def test_both_make_what_was_worked_out_before_out_of_date(spares, tx, circle):
    stamps = [stamp(tx, circle)]

    take(tx, circle.circle_id, spares[0], 1)
    stamps.append(stamp(tx, circle))
    give_back(tx, circle.circle_id, spares[0], 1)
    stamps.append(stamp(tx, circle))

    assert stamps == sorted(set(stamps))
