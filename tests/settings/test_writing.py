"""The settings file of a new installation: read back as written, kept to its owner."""

import stat
import tomllib

import pytest

from exchange.settings import SettingRefused, read_settings, settings_file, write_settings

ODD = 'pass"word\\ with \x7f, ü and \u2028'


def test_what_is_written_is_read_back(tmp_path):
    values = {"mail_server": "mail.example.org", "mail_from": "a@b.example", "mail_port": 465}
    write_settings(tmp_path, {**values, "mail_password": ODD, "home_network": True})

    settings = read_settings({}, tmp_path)

    assert {name: getattr(settings, name) for name in values} == values
    assert (settings.mail_password, settings.home_network) == (ODD, True)


def test_only_its_owner_reads_it_as_it_may_hold_a_password(tmp_path):
    path = write_settings(tmp_path, {"mail_password": ODD})

    assert path == settings_file(tmp_path)
    assert stat.S_IMODE(path.stat().st_mode) == 0o600


def test_a_file_that_is_there_stays_as_it_is(tmp_path):
    write_settings(tmp_path, {"port": 8081})

    with pytest.raises(SettingRefused, match="already"):
        write_settings(tmp_path, {"port": 8082})

    assert tomllib.loads(settings_file(tmp_path).read_text(encoding="utf-8")) == {"port": 8081}
