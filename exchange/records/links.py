"""Links that may be used once; only their hashes are kept."""

from dataclasses import dataclass
from datetime import datetime
from hashlib import sha256

from sqlalchemy import select, update

from exchange.records.columns import reader
from exchange.records.rows.people import LinkRow, MemberRow
from exchange.records.tables import LinkTable, MemberTable
from exchange.records.transaction import Tx

_read = reader(LinkRow)
_read_member = reader(MemberRow)


def hash_of(token: str) -> str:
    return sha256(token.encode()).hexdigest()


@dataclass(frozen=True, slots=True)
class NewLink:
    token: str
    purpose: str
    member_id: int
    subject_id: int | None
    expires_at: datetime


def add(tx: Tx, link: NewLink, now: datetime) -> int:
    row = LinkTable(
        sha256=hash_of(link.token),
        purpose=link.purpose,
        member_id=link.member_id,
        subject_id=link.subject_id,
        made_at=now,
        expires_at=link.expires_at,
    )
    tx._session.add(row)
    tx._session.flush()
    return row.id


def look_at(tx: Tx, token: str) -> tuple[LinkRow, MemberRow] | None:
    """Give the link and the member it was made for, used or not."""
    query = (
        select(LinkTable, MemberTable)
        .join(MemberTable, MemberTable.id == LinkTable.member_id)
        .where(LinkTable.sha256 == hash_of(token))
    )
    found = tx._session.execute(query).one_or_none()
    return None if found is None else (_read(found[0]), _read_member(found[1]))


def open_links_of(tx: Tx, member_id: int) -> tuple[LinkRow, ...]:
    """Give the links of a member that were not used yet."""
    query = (
        select(LinkTable)
        .where(LinkTable.member_id == member_id, LinkTable.used_at.is_(None))
        .order_by(LinkTable.id)
    )
    return tuple(_read(row) for row in tx._session.scalars(query))


def redeem(tx: Tx, token: str, now: datetime) -> bool:
    """Use the link up; only one of two at once gets True."""
    used = tx._session.execute(
        update(LinkTable)
        .where(
            LinkTable.sha256 == hash_of(token),
            LinkTable.used_at.is_(None),
            LinkTable.expires_at > now,
        )
        .values(used_at=now)
        .returning(LinkTable.id)
        .execution_options(synchronize_session=False)
    )
    return used.one_or_none() is not None


def revoke(tx: Tx, member_id: int, purpose: str, now: datetime) -> None:
    """Use up every open link of one purpose, as when a member leaves."""
    tx._session.execute(
        update(LinkTable)
        .where(
            LinkTable.member_id == member_id,
            LinkTable.purpose == purpose,
            LinkTable.used_at.is_(None),
        )
        .values(used_at=now)
        .execution_options(synchronize_session=False)
    )
