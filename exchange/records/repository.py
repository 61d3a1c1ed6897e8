"""Reading and writing the rows of one noun; rows leave as frozen dataclasses."""

from collections.abc import Callable, Mapping, Sequence
from typing import Any, Concatenate, Generic, ParamSpec, Protocol, TypeVar

from sqlalchemy import insert, select, update

from exchange.records.columns import held, matches, names_of, reader
from exchange.records.tables import CircleTable
from exchange.records.tables.base import Base
from exchange.records.transaction import Tx


class NotHereError(LookupError):
    """There is no such row in this circle."""


class _HasId(Protocol):
    @property
    def id(self) -> int: ...


Row = TypeVar("Row", bound=_HasId)
New = ParamSpec("New")
Change = ParamSpec("Change")
Where = ParamSpec("Where")


def touch(tx: Tx, circle_id: int) -> None:
    """Note that the facts of a circle have changed."""
    tx._session.execute(
        update(CircleTable)
        .where(CircleTable.id == circle_id)
        .values(stamp=CircleTable.stamp + 1)
        .execution_options(synchronize_session=False)
    )


class Repository(Generic[Row, New, Change, Where]):
    """The rows of one noun in any circle.

    What `add` takes is what the row's own dataclass takes after the id; what `change` takes, and
    what `find`, `all` and `by_id` ask by, are two typed dictionaries beside it. So a misspelt
    column, or one of another type, is an error of the type checker. The parameters come from
    ParamSpecs, which Python allows only as a pair: the positional half, `*_`, stays empty.

    Attributes
    ----------
    read : makes the row's dataclass from its columns
    noun : what such a row is called in an error
    sorts : columns by which rows are given out; the id is always the last
    facts : whether a change makes an older plan or share-out stale
    """

    def __init__(
        self,
        table: type[Base],
        row: Callable[Concatenate[int, New], Row],
        change: Callable[Change, Any],
        where: Callable[Where, Any],
        *,
        sorts: tuple[str, ...] = (),
        facts: bool = False,
    ) -> None:
        del change, where  # only their types are wanted
        self.table = table
        self.read = reader(row)
        self.noun = table.__tablename__.replace("_", " ")
        self.sorts = sorts
        self.facts = facts
        self._row = row
        self._names = tuple(one for one in names_of(row) if one not in {"id", "circle_id"})

    def add(self, tx: Tx, circle_id: int, /, *_: New.args, **new: New.kwargs) -> int:
        """Keep a new row; what is not said has the dataclass's own default."""
        made = self._row(0, *_, **new)
        columns = {name: held(getattr(made, name)) for name in self._names}
        kept = self.table(circle_id=circle_id, **columns)
        tx._session.add(kept)
        tx._session.flush()
        if self.facts:
            touch(tx, circle_id)
        return kept.id

    def add_all(self, tx: Tx, circle_id: int, rows: Sequence[Row]) -> tuple[int, ...]:
        """Keep many new rows at once, and give their ids in the same order; ids they come with say nothing."""
        if not rows:
            return ()
        columns = [
            {"circle_id": circle_id, **{name: held(getattr(one, name)) for name in self._names}}
            for one in rows
        ]
        statement = insert(self.table).returning(self._column("id"), sort_by_parameter_order=True)
        ids = tuple(tx._session.execute(statement, columns).scalars())
        if self.facts:
            touch(tx, circle_id)
        return ids

    def find(self, tx: Tx, circle_id: int, /, *_: Where.args, **where: Where.kwargs) -> Row | None:
        """Give the first of the rows that `all` gives, or None."""
        found = self.all(tx, circle_id, *_, **where)
        return found[0] if found else None

    def get(self, tx: Tx, circle_id: int, row_id: int) -> Row:
        """Give one row.

        Raises
        ------
        NotHereError
            When the circle has no such row.
        """
        return self.read(self._kept(tx, circle_id, row_id))

    def all(
        self, tx: Tx, circle_id: int, /, *_: Where.args, **where: Where.kwargs
    ) -> tuple[Row, ...]:
        """Give the rows whose columns equal the given values (None: is empty; a set: is one of)."""
        query = select(self.table).where(self._column("circle_id") == circle_id)
        for name, wanted in where.items():
            query = query.where(matches(self._column(name), wanted))
        query = query.order_by(*(self._column(name) for name in self.sorts), self._column("id"))
        return tuple(self.read(row) for row in tx._session.scalars(query))

    def by_id(
        self, tx: Tx, circle_id: int, /, *_: Where.args, **where: Where.kwargs
    ) -> Mapping[int, Row]:
        """Give the rows that `all` gives [id -> row]."""
        return {row.id: row for row in self.all(tx, circle_id, *_, **where)}

    def change(
        self, tx: Tx, circle_id: int, row_id: int, /, *_: Change.args, **change: Change.kwargs
    ) -> None:
        """Change columns of one row."""
        row = self._kept(tx, circle_id, row_id)
        changed = False
        for name, value in change.items():
            wanted = held(value)
            if getattr(row, name) != wanted:
                setattr(row, name, wanted)
                changed = True
        tx._session.flush()
        if changed and self.facts:
            touch(tx, circle_id)

    def remove(self, tx: Tx, circle_id: int, row_id: int) -> None:
        """Drop one row."""
        tx._session.delete(self._kept(tx, circle_id, row_id))
        tx._session.flush()
        if self.facts:
            touch(tx, circle_id)

    def _column(self, name: str) -> Any:
        return getattr(self.table, name)

    def _kept(self, tx: Tx, circle_id: int, row_id: int) -> Base:
        query = select(self.table).where(
            self._column("id") == row_id, self._column("circle_id") == circle_id
        )
        row: Base | None = tx._session.scalars(query).one_or_none()
        if row is None:
            raise NotHereError(f"there is no {self.noun} {row_id} in this circle")
        return row
