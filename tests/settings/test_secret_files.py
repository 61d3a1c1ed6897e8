"""Secrets: made once, readable by their owner only, never shown."""

import dataclasses
import stat
from concurrent.futures import ThreadPoolExecutor

import pytest

from exchange.settings import SettingRefused, secrets_in


def test_secrets_are_made_once_and_kept(tmp_path):
    first = secrets_in(tmp_path)

    assert secrets_in(tmp_path) == first
    assert len({first.session_key, first.password_salt, first.link_key}) == 3
    assert min(map(len, dataclasses.astuple(first))) >= 64


def test_secrets_are_readable_by_their_owner_only(tmp_path):
    secrets_in(tmp_path)

    modes = {stat.S_IMODE(path.stat().st_mode) for path in (tmp_path / "secrets").iterdir()}
    assert modes == {0o600}
    assert stat.S_IMODE((tmp_path / "secrets").stat().st_mode) == 0o700


def test_a_secret_that_others_can_read_is_refused(tmp_path):
    secrets_in(tmp_path)
    (tmp_path / "secrets" / "session_key").chmod(0o644)

    with pytest.raises(SettingRefused, match="0600"):
        secrets_in(tmp_path)


def test_two_first_starts_at_once_agree_on_the_secrets(tmp_path):
    with ThreadPoolExecutor(8) as pool:
        found = set(pool.map(lambda _: secrets_in(tmp_path), range(8)))

    assert len(found) == 1
    assert len(list((tmp_path / "secrets").iterdir())) == 3


def test_secrets_are_not_shown(tmp_path):
    found = secrets_in(tmp_path)

    assert found.session_key not in repr(found)
