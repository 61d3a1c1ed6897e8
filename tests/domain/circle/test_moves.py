"""Moves: what changes nothing is left out, and each row is counted once."""

from exchange.domain.circle.moves import Move, changed, counts


def test_a_move_that_changes_nothing_is_left_out():
    moves = (Move("spare", 1, "held", False, True), Move("spare", 2, "held", True, True))

    assert changed(moves) == moves[:1]


def test_a_row_is_counted_once_however_many_columns_change():
    moves = (
        Move("claim", 1, "variety_id", 2, 3),
        Move("claim", 1, "withdrawn_at", None, "2027-04-05T09:00:00+00:00"),
        Move("spare", 1, "variety_id", 2, 3),
    )

    assert counts(moves) == {"claim": 1, "spare": 1}
