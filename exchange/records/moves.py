"""Moves done to the rows they name, and taken back exactly."""

from collections.abc import Iterable, Sequence
from typing import Any

from exchange.domain.circle.moves import Move, Plain
from exchange.records.columns import held, to_plain
from exchange.records.repository import touch
from exchange.records.tables import Base
from exchange.records.transaction import Tx
from exchange.records.whole_circle import column_value, to_json


class MovedSinceError(Exception):
    """A row no longer holds what the move left there.

    Attributes
    ----------
    noun : what such a row is called
    """

    def __init__(self, noun: str) -> None:
        super().__init__(f"a {noun} has changed since")
        self.noun = noun


def do_moves(tx: Tx, circle_id: int, moves: Iterable[Move]) -> None:
    """Do moves in their order.

    Raises
    ------
    MovedSinceError
        When a row holds something else than the move starts from.
    """
    for one in moves:
        _set(tx, circle_id, one, one.before, one.after)
    touch(tx, circle_id)


def take_moves_back(tx: Tx, circle_id: int, moves: Sequence[Move]) -> None:
    """Take moves back, the last first.

    Raises
    ------
    MovedSinceError
        When a row is gone, or holds something else than the move left there.
    """
    for one in reversed(moves):
        _set(tx, circle_id, one, one.after, one.before)
    touch(tx, circle_id)


def moves_as_kept(moves: Iterable[Move]) -> tuple[Any, ...]:
    """Give moves as a row holds them."""
    return tuple(to_plain(one) for one in moves)


def moves_kept(plain: Iterable[Any]) -> tuple[Move, ...]:
    """Give the moves that a row holds."""
    return tuple(
        Move(
            one["noun"],
            one["row_id"],
            one["column"],
            _value(one["before"]),
            _value(one["after"]),
        )
        for one in plain
    )


def _value(plain: Any) -> Plain:
    """Give a value as a move has it; a list of ids is a tuple there."""
    value: Plain = tuple(plain) if isinstance(plain, list) else plain
    return value


def _set(tx: Tx, circle_id: int, move: Move, expected: Plain, wanted: Plain) -> None:
    kind = next(one for one in Base.__subclasses__() if one.__tablename__ == move.noun)
    row = tx._session.get(kind, move.row_id)
    if row is None or getattr(row, "circle_id", circle_id) != circle_id:
        raise MovedSinceError(move.noun)
    if to_json(getattr(row, move.column)) != held(expected):
        raise MovedSinceError(move.noun)
    table = Base.metadata.tables[move.noun]
    setattr(row, move.column, column_value(table, move.column, held(wanted)))
    tx._session.flush()
