"""Accounts: found by address without regard to capitals, and changed one at a time."""

from dataclasses import replace
from secrets import token_hex

import pytest

from exchange.records import MEMBERS, accounts
from exchange.records.tables import MemberTable
from tests.app_fixtures import NOW


@pytest.fixture
def address():
    return f"Effie.{token_hex(4)}@Example.org"


@pytest.fixture
def account(tx, address):
    return accounts.add(tx, f" {address} ", token_hex(8), NOW, "hashed")


@pytest.fixture
def another(tx):
    return accounts.add(tx, f"{token_hex(4)}@example.org", token_hex(8), NOW)


def sign_in(tx, account_id):
    return accounts.find_sign_in(tx, id=account_id)


def test_a_new_account_is_active_and_keeps_its_address_as_written(tx, account, address):
    kept = accounts.get(tx, account)

    assert (kept.id, kept.email) == (account, address)
    assert sign_in(tx, account).active
    assert sign_in(tx, account).password == "hashed"


def test_there_is_no_account_of_an_unknown_number_or_address(tx, account):
    assert accounts.get(tx, account + 10_000) is None
    assert accounts.with_email(tx, "nobody@example.org") is None
    assert accounts.find_sign_in(tx, email="nobody@example.org") is None


@pytest.mark.parametrize("written", [str, str.upper, str.lower, "  {}  ".format])
def test_an_address_is_found_however_it_is_written(tx, account, another, address, written):
    assert accounts.with_email(tx, written(address)).id == account
    assert accounts.find_sign_in(tx, email=written(address)).id == account


def test_an_account_is_found_by_the_mark_of_its_sessions(tx, account, another):
    mark = sign_in(tx, account).fs_uniquifier

    assert accounts.find_sign_in(tx, fs_uniquifier=mark).id == account


def test_what_the_sign_in_changed_is_kept_for_that_account_alone(tx, account, another):
    before = sign_in(tx, another)
    changed = replace(
        sign_in(tx, account), email=f"{token_hex(4)}@example.org", password="new",
        fs_uniquifier=token_hex(8),
    )  # fmt: skip

    accounts.keep(tx, changed)
    tx._session.expire_all()

    assert sign_in(tx, account) == changed
    assert sign_in(tx, another) == before


def test_signing_out_everywhere_gives_another_mark_to_that_account_alone(tx, account, another):
    before = sign_in(tx, another)
    mark = token_hex(8)

    accounts.sign_out_everywhere(tx, account, mark)
    tx._session.expire_all()

    assert sign_in(tx, account).fs_uniquifier == mark
    assert sign_in(tx, another) == before


def test_an_address_is_wanted_first_and_then_taken(tx, account, another):
    wanted = f"{token_hex(4)}@example.org"
    before = accounts.get(tx, another)

    accounts.want_address(tx, account, wanted)
    tx._session.expire_all()
    assert accounts.get(tx, account).wanted_email == wanted
    accounts.set_address(tx, account, f" {wanted} ")
    tx._session.expire_all()

    assert (accounts.get(tx, account).email, accounts.get(tx, account).wanted_email) == (
        wanted, None,
    )  # fmt: skip
    assert accounts.get(tx, another) == before


def a_membership(tx, circle, account_id, who="Effie", left_at=None):
    row = tx._session.get_one(MemberTable, circle[who].id)
    row.account_id, row.left_at = account_id, left_at
    tx._session.flush()
    return row.id


def test_an_account_is_a_member_of_every_circle_it_has_not_left(
    tx, account, another, circle, other
):
    later = a_membership(tx, other, account)
    first = a_membership(tx, circle, account)
    a_membership(tx, circle, another, "Winnie")

    assert [one.id for one in accounts.memberships(tx, account)] == [first, later]

    MEMBERS.change(tx, circle.circle_id, first, left_at=NOW)
    assert [one.id for one in accounts.memberships(tx, account)] == [later]
