"""Accounts: one sign-in, which may belong to several circles."""

from datetime import datetime
from typing import Any, TypeVar

from sqlalchemy import func, select, update

from exchange.records.books import Tx
from exchange.records.shelf import reader
from exchange.records.tables import Account, MemberTable
from exchange.records.values import AccountEntry, Member

_read = reader(AccountEntry)
_read_member = reader(Member)
Kind = TypeVar("Kind", bound=Account)


def row(tx: Tx, kind: type[Kind], column: str, value: Any) -> Kind | None:
    """Give an account as the sign-in library's own kind of object, free of the session."""
    there: Any = getattr(kind, column)
    if column == "email":
        there, value = func.lower(there), str(value).strip().lower()
    found = tx.scalars(select(kind).where(there == value)).one_or_none()
    if found is not None:
        tx.expunge(found)
    return found


def keep(tx: Tx, changed: Account) -> None:
    """Keep what the sign-in library changed: address, password, the mark of its sessions."""
    tx.execute(
        update(Account)
        .where(Account.id == changed.id)
        .values(email=changed.email, password=changed.password, fs_uniquifier=changed.fs_uniquifier)
        .execution_options(synchronize_session=False)
    )


def sign_out_everywhere(tx: Tx, account_id: int, uniquifier: str) -> None:
    """Give an account another mark; sessions, and mails to set a password, carry the old one."""
    tx.execute(update(Account).where(Account.id == account_id).values(fs_uniquifier=uniquifier))


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


def want_address(tx: Tx, account_id: int, email: str | None) -> None:
    """Keep the address an account is to have once its owner has pressed the link sent there."""
    tx.execute(update(Account).where(Account.id == account_id).values(wanted_email=email))


def set_address(tx: Tx, account_id: int, email: str) -> None:
    """Keep the address to sign in with."""
    changed = {"email": email.strip(), "wanted_email": None}
    tx.execute(update(Account).where(Account.id == account_id).values(**changed))


def memberships(tx: Tx, account_id: int) -> tuple[Member, ...]:
    """Give what the account is a member of, in every circle."""
    query = (
        select(MemberTable)
        .where(MemberTable.account_id == account_id, MemberTable.left_at.is_(None))
        .order_by(MemberTable.circle_id)
    )
    return tuple(_read_member(row) for row in tx.scalars(query))
