"""All rows that are held of one member, as plain values."""

from collections.abc import Mapping
from typing import Any

from sqlalchemy import Column, Table, or_, select

from exchange.records.tables import Account, Base, MemberTable
from exchange.records.transaction import Tx
from exchange.records.whole_circle import PlainTables, to_json

SECRETS = frozenset({"password", "fs_uniquifier", "sha256"})
"""Columns that hold no knowledge of a person, only what keeps others out."""
NOT_OF_A_PERSON = frozenset({"circle", "variety", "way", "route_point", "closure", "forecast"})
OTHERS_CHOICE = "set_aside_for"
"""A column by which somebody else's row points at a household."""
BY_WHAT_IT_IS = (
    ("household",),
    ("place",),
    ("member",),
    ("spare", "claim"),
    ("parcel",),
    ("account",),
)
"""Whose a row is: by the first of these groups of tables that it points into."""


def held_of(tx: Tx, circle_id: int, member_id: int) -> PlainTables:
    """Give every row of a member and of their household, without the rows of the others in it."""
    member = tx._session.get_one(MemberTable, member_id)
    own: dict[str, frozenset[int]] = {
        "member": frozenset({member_id}),
        "household": frozenset({member.household_id}),
        "account": frozenset({member.account_id} if member.account_id else ()),
    }
    found: dict[str, list[Mapping[str, Any]]] = {}
    for table in Base.metadata.sorted_tables:
        if table.name in NOT_OF_A_PERSON:
            continue
        rows = _own_rows(tx, table, circle_id, own)
        own.setdefault(table.name, frozenset(row["id"] for row in rows))
        if rows:
            found[table.name] = rows
    return found


def _own_rows(
    tx: Tx, table: Table, circle_id: int, own: Mapping[str, frozenset[int]]
) -> list[Mapping[str, Any]]:
    if table.name in own:
        points = [(table.c.id, own[table.name])]
    else:
        points = [(column, own.get(name, frozenset())) for column, name in _points_at(table)]
    if not any(ids for _column, ids in points):
        return []
    query = select(table).where(or_(*(column.in_(ids) for column, ids in points)))
    if "circle_id" in table.c and table is not Account.__table__:
        query = query.where(table.c.circle_id == circle_id)
    return [
        {name: to_json(value) for name, value in row.items() if name not in SECRETS}
        for row in tx._session.execute(query.order_by(table.c.id)).mappings()
    ]


def _points_at(table: Table) -> list[tuple[Column[Any], str]]:
    """Give the columns by which rows of a table are somebody's, each with the table it points at."""
    for wanted in BY_WHAT_IT_IS:
        columns = [
            (column, key.column.table.name)
            for column in table.c
            if column.name != OTHERS_CHOICE
            for key in column.foreign_keys
            if key.column.table.name in wanted
        ]
        if columns:
            return columns
    return []
