"""The secrets of one installation: made on first start, readable by their owner only."""

import os
import secrets
import stat
from dataclasses import dataclass, field, fields
from pathlib import Path

from exchange.settings.values import SettingRefused


@dataclass(frozen=True, slots=True)
class Secrets:
    """The secrets of one installation; none of them is ever shown."""

    session_key: str = field(repr=False)
    password_salt: str = field(repr=False)
    link_key: str = field(repr=False)


def secrets_in(folder: Path) -> Secrets:
    """Read the secrets kept in a folder, making each on first start, readable by its owner only.

    Raises
    ------
    SettingRefused
        When a secret's file can be read by others on the machine.
    """
    kept = folder / "secrets"
    kept.mkdir(mode=0o700, parents=True, exist_ok=True)
    return Secrets(**{each.name: _secret(kept / each.name) for each in fields(Secrets)})


def _secret(path: Path) -> str:
    if not path.exists():
        _make_secret(path)
    if path.stat().st_mode & (stat.S_IRWXG | stat.S_IRWXO):
        raise SettingRefused(
            "data_folder", f"holds {path.name}, which others can read; give it mode 0600."
        )
    return path.read_text(encoding="ascii")


def _make_secret(path: Path) -> None:
    """Make the file whole before it gets its name: two processes may start at once."""
    draft = path.with_name(f".{path.name}.{secrets.token_hex(8)}")
    handle = os.open(draft, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
    with os.fdopen(handle, "w", encoding="ascii") as file:
        file.write(secrets.token_urlsafe(48))
    try:
        os.link(draft, path)
    except FileExistsError:
        return
    finally:
        draft.unlink()
