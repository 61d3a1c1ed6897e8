"""Moves done to rows: each starts from what it says, and goes back the same way."""

import pytest

from exchange.domain.circle.moves import Move
from exchange.records import CLAIMS
from exchange.records.moves import (
    MovedSinceError,
    do_moves,
    moves_as_kept,
    moves_kept,
    take_moves_back,
)
from tests.app_fixtures import NOW, a_house
from tests.builders.breaking import dump
from tests.builders.offers import a_claim, a_ring, a_variety

AT = NOW.isoformat()


@pytest.fixture
def circle(tmp_path):
    with a_house(tmp_path) as house:
        yield a_ring(house)


def moves_of(circle):
    other, claim_id = a_variety(circle, "Copper Pan"), a_claim(circle)
    return (
        Move("claim", claim_id, "asked", 1, 2),
        Move("claim", claim_id, "withdrawn_at", None, AT),
        Move("claim", claim_id, "alternatives", (), (other,)),
    )


def done(circle, act, moves):
    with circle.house.books.writing() as tx:
        act(tx, circle.circle_id, moves)


def test_every_kind_of_value_is_kept_and_taken_back(circle):
    moves = moves_of(circle)
    before = dump(circle.house.books)["claim"]

    done(circle, do_moves, moves)
    with circle.house.books.reading() as tx:
        moved = CLAIMS.get(tx, circle.circle_id, moves[0].row_id)
    done(circle, take_moves_back, moves)

    assert (moved.asked, moved.withdrawn_at, moved.alternatives) == (2, NOW, moves[2].after)
    assert dump(circle.house.books)["claim"] == before


def test_a_row_that_holds_something_else_is_left_alone(circle):
    moves = moves_of(circle)
    before = dump(circle.house.books)

    with pytest.raises(MovedSinceError) as error:
        done(circle, take_moves_back, moves)

    assert error.value.noun == "claim"
    assert dump(circle.house.books) == before


def test_a_row_of_another_circle_is_not_touched(circle):
    moves = moves_of(circle)
    elsewhere = a_ring(circle.house)

    with pytest.raises(MovedSinceError):
        done(elsewhere, do_moves, moves)


def test_moves_are_read_as_they_were_kept(circle):
    moves = moves_of(circle)

    assert moves_kept(moves_as_kept(moves)) == moves
