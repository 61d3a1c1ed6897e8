"""Accounts: one sign-in, which may belong to several circles."""

from datetime import datetime

from sqlalchemy import func, select, update

from exchange.records.books import Tx
from exchange.records.shelf import reader
from exchange.records.tables import Account, MemberTable
from exchange.records.values import AccountEntry, Member

_read = reader(AccountEntry)
_read_member = reader(Member)


def with_email(tx: Tx, email: str) -> AccountEntry | None:
    query = select(Account).where(func.lower(Account.email) == email.strip().lower())
    row = tx.scalars(query).one_or_none()
    return None if row is None else _read(row)


def add(tx: Tx, email: str, uniquifier: str, now: datetime, password: str | None = None) -> int:
    """Keep a new account; the password is already hashed."""
    row = Account(
        email=email.strip(),
        password=password,
        fs_uniquifier=uniquifier,
        confirmed_at=now,
        created_at=now,
    )
    tx.add(row)
    tx.flush()
    return row.id


def get(tx: Tx, account_id: int) -> AccountEntry | None:
    row = tx.get(Account, account_id)
    return None if row is None else _read(row)


def set_larger_text(tx: Tx, account_id: int, larger: bool) -> None:
    tx.execute(update(Account).where(Account.id == account_id).values(larger_text=larger))


def memberships(tx: Tx, account_id: int) -> tuple[Member, ...]:
    """Give what the account is a member of, in every circle."""
    query = (
        select(MemberTable)
        .where(MemberTable.account_id == account_id, MemberTable.left_at.is_(None))
        .order_by(MemberTable.circle_id)
    )
    return tuple(_read_member(row) for row in tx.scalars(query))
