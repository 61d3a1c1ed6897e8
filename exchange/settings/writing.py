"""Writing the settings file of a new installation, readable by its owner only."""

import json
import os
from collections.abc import Mapping
from pathlib import Path

from exchange.settings.reading import FILE_NAME
from exchange.settings.values import SettingRefused


def settings_file(folder: Path) -> Path:
    """Give where an installation's settings file is, or would be."""
    return folder / FILE_NAME


def write_settings(folder: Path, values: Mapping[str, str | int | bool]) -> Path:
    """Write settings that are not there yet; a file that is there stays as it is.

    Raises
    ------
    SettingRefused
        When the folder has a settings file already.
    """
    path = settings_file(folder)
    try:
        handle = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
    except FileExistsError as there:
        raise SettingRefused(
            "data_folder", f"holds a {FILE_NAME} already; change it there."
        ) from there
    with os.fdopen(handle, "w", encoding="utf-8") as file:
        file.write("# Written by exchange init; docs/settings.md explains each.\n")
        file.writelines(f"{name} = {_as_toml(value)}\n" for name, value in values.items())
    return path


def _as_toml(value: str | int | bool) -> str:
    """Give a value as TOML; a JSON string without the sign DEL is a TOML string too."""
    return json.dumps(value, ensure_ascii=False).replace("\x7f", "\\u007f")
