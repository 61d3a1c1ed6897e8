"""Reading the settings: defaults, then a file, then the environment, then the command line."""

import tomllib
from collections.abc import Mapping
from dataclasses import fields
from datetime import date
from math import isfinite
from pathlib import Path
from types import MappingProxyType
from typing import Any

from exchange.settings.values import PREFIX, SettingRefused, Settings, home_folder

TEST_PREFIX = "EXCHANGE_TEST_"
FILE_NAME = "settings.toml"


def read_settings(environment: Mapping[str, str], folder: Path | None = None) -> Settings:
    """Read the settings: defaults, then settings.toml in the data folder, then the environment.

    Parameters
    ----------
    environment
        The environment's variables; those that begin with EXCHANGE_ are read.
    folder
        The data folder given on the command line; it overrides all others.

    Returns
    -------
    Settings
        Checked and complete.

    Raises
    ------
    SettingRefused
        When a setting is unknown, of the wrong kind or out of bounds.
    """
    spoken = _from_environment(environment)
    if folder is not None:
        spoken["data_folder"] = folder
    written = _from_file(spoken.get("data_folder", home_folder()) / FILE_NAME)
    return Settings(**{**written, **spoken})


def _from_environment(environment: Mapping[str, str]) -> dict[str, Any]:
    values = {}
    for variable, text in environment.items():
        if not variable.startswith(PREFIX) or variable.startswith(TEST_PREFIX):
            continue
        name = variable.removeprefix(PREFIX).lower()
        values[name] = _from_text(name, _kind(name), text)
    return values


def _from_file(path: Path) -> dict[str, Any]:
    if not path.is_file():
        return {}
    try:
        content = tomllib.loads(path.read_text(encoding="utf-8"))
    except (tomllib.TOMLDecodeError, UnicodeDecodeError) as error:
        raise SettingRefused(
            "data_folder", f"holds a {FILE_NAME} that cannot be read: {error}."
        ) from error
    if "data_folder" in content:
        raise SettingRefused("data_folder", f"cannot stand in {FILE_NAME}, which lies within it.")
    return {name: _from_toml(name, _kind(name), value) for name, value in content.items()}


def _from_toml(name: str, kind: str, value: object) -> Any:
    if kind == "folder" and isinstance(value, str):
        return Path(value)
    if kind == "figure" and type(value) is int:
        return float(value)
    if type(value) is not _TOML_TYPES[kind]:
        raise SettingRefused(name, f"must be {_WANTED[kind]}.")
    return value


def _from_text(name: str, kind: str, text: str) -> Any:
    try:
        return _READERS[kind](text.strip())
    except (ValueError, KeyError) as error:
        raise SettingRefused(name, f"must be {_WANTED[kind]}, not “{text}”.") from error


def _figure(text: str) -> float:
    value = float(text)
    if not isfinite(value):
        raise ValueError(text)
    return value


def _kind(name: str) -> str:
    if name not in _KINDS:
        raise SettingRefused(name, "does not exist; docs/settings.md lists them all.")
    return _KINDS[name]


_YES_NO = MappingProxyType(
    {"yes": True, "true": True, "1": True, "no": False, "false": False, "0": False}
)
_READERS: Mapping[str, Any] = MappingProxyType(
    {
        "text": str,
        "number": int,
        "figure": _figure,
        "yes or no": lambda text: _YES_NO[text.lower()],
        "day": date.fromisoformat,
        "folder": Path,
    }
)
_TOML_TYPES: Mapping[str, type] = MappingProxyType(
    {
        "text": str,
        "number": int,
        "figure": float,
        "yes or no": bool,
        "day": date,
        "folder": Path,
    }
)
_WANTED: Mapping[str, str] = MappingProxyType(
    {
        "text": "text in quotes",
        "number": "a whole number",
        "figure": "a figure such as 1.5",
        "yes or no": "yes or no (true or false in the file)",
        "day": "a day written YYYY-MM-DD",
        "folder": "the name of a folder or file",
    }
)
_KIND_OF_TYPE: Mapping[object, str] = MappingProxyType(
    {
        str: "text",
        int: "number",
        float: "figure",
        bool: "yes or no",
        Path: "folder",
        Path | None: "folder",
        date | None: "day",
    }
)
_KINDS: Mapping[str, str] = MappingProxyType(
    {each.name: _KIND_OF_TYPE[each.type] for each in fields(Settings)}
)
