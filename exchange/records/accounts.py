"""Accounts: one sign-in, which may belong to several circles."""

from datetime import datetime
from typing import Unpack

from sqlalchemy import func, select, update

from exchange.records.columns import matches, reader
from exchange.records.rows.people import AccountRow, MemberRow, SignInRow, SignInWhere
from exchange.records.tables import Account, MemberTable
from exchange.records.transaction import Tx

_read = reader(AccountRow)
_read_member = reader(MemberRow)
_read_sign_in = reader(SignInRow)


def find_sign_in(tx: Tx, **where: Unpack[SignInWhere]) -> SignInRow | None:
    """Give an account as the sign-in library needs it; addresses without regard to capitals."""
    query = select(Account)
    for name, wanted in where.items():
        if name == "email":
            query = query.where(func.lower(Account.email) == str(wanted).strip().lower())
        else:
            query = query.where(matches(getattr(Account, name), wanted))
    found = tx._session.scalars(query).one_or_none()
    return None if found is None else _read_sign_in(found)


def keep(tx: Tx, changed: SignInRow) -> None:
    """Keep what the sign-in library changed: address, password, the mark its sessions carry."""
    tx._session.execute(
        update(Account)
        .where(Account.id == changed.id)
        .values(email=changed.email, password=changed.password, fs_uniquifier=changed.fs_uniquifier)
        .execution_options(synchronize_session=False)
    )


def sign_out_everywhere(tx: Tx, account_id: int, uniquifier: str) -> None:
    """Give an account another mark; sessions, and mails to set a password, carry the old one."""
    tx._session.execute(
        update(Account).where(Account.id == account_id).values(fs_uniquifier=uniquifier)
    )


def with_email(tx: Tx, email: str) -> AccountRow | None:
    query = select(Account).where(func.lower(Account.email) == email.strip().lower())
    row = tx._session.scalars(query).one_or_none()
    return None if row is None else _read(row)


def add(tx: Tx, email: str, uniquifier: str, now: datetime, password: str | None = None) -> int:
    """Keep a new account; the password is already hashed."""
    row = Account(
        email=email.strip(),
        password=password,
        active=True,
        fs_uniquifier=uniquifier,
        confirmed_at=now,
        created_at=now,
    )
    tx._session.add(row)
    tx._session.flush()
    return row.id


def get(tx: Tx, account_id: int) -> AccountRow | None:
    row = tx._session.get(Account, account_id)
    return None if row is None else _read(row)


def want_address(tx: Tx, account_id: int, email: str | None) -> None:
    """Keep the address an account is to have once its owner has pressed the link sent there."""
    tx._session.execute(update(Account).where(Account.id == account_id).values(wanted_email=email))


def set_address(tx: Tx, account_id: int, email: str) -> None:
    """Keep the address to sign in with."""
    changed = {"email": email.strip(), "wanted_email": None}
    tx._session.execute(update(Account).where(Account.id == account_id).values(**changed))


def memberships(tx: Tx, account_id: int) -> tuple[MemberRow, ...]:
    """Give what the account is a member of, in every circle."""
    query = (
        select(MemberTable)
        .where(MemberTable.account_id == account_id, MemberTable.left_at.is_(None))
        .order_by(MemberTable.circle_id)
    )
    return tuple(_read_member(row) for row in tx._session.scalars(query))
