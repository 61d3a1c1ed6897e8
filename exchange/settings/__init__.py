"""Typed settings and secrets, read once, at the door, by the commands and the web application."""

from exchange.settings.reading import read_settings
from exchange.settings.secret_files import Secrets, secrets_in
from exchange.settings.values import SettingRefused, Settings
from exchange.settings.writing import settings_file, write_settings

__all__ = [
    "Secrets",
    "SettingRefused",
    "Settings",
    "read_settings",
    "secrets_in",
    "settings_file",
    "write_settings",
]
