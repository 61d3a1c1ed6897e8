"""The secrets of one installation: made on first start, readable by their owner only."""

import os
import secrets
import stat
from dataclasses import dataclass, field, fields
from pathlib import Path
from time import sleep

from exchange.settings.values import SettingRefused

OTHERS = stat.S_IRWXG | stat.S_IRWXO
"""The rights of anybody but a file's owner, as bits of its mode."""
LOOKS, BETWEEN_LOOKS_S = 100, 0.05
"""How often it is looked whether another process has ended its turn, and how long is waited between (judgement) [1, s]."""


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
    if path.stat().st_mode & OTHERS and _keeps_modes(path.parent):
        raise SettingRefused(
            "data_folder", f"holds {path.name}, which others can read; give it mode 0600."
        )
    return path.read_text(encoding="ascii")


def _keeps_modes(folder: Path) -> bool:
    """Say whether the file system keeps who may read a file; memory sticks and Windows do not."""
    probe = folder / f".{secrets.token_hex(8)}"
    try:
        os.close(os.open(probe, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600))
    except OSError:
        return True
    try:
        return not probe.stat().st_mode & OTHERS
    finally:
        probe.unlink()


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
    except OSError:
        # A second name for a file is refused, as on memory sticks.
        _name_in_turn(draft, path)
    finally:
        draft.unlink(missing_ok=True)


def _name_in_turn(draft: Path, path: Path) -> None:
    """Give a file its name by renaming it, one process after the other; the first one's stays.

    Raises
    ------
    SettingRefused
        When the turn of another process does not end.
    """
    turn = path.with_name(f".{path.name}.turn")
    for _look in range(LOOKS):
        try:
            turn.mkdir()
        except FileExistsError:
            sleep(BETWEEN_LOOKS_S)
            continue
        try:
            if not path.exists():
                draft.rename(path)
        finally:
            turn.rmdir()
        return
    raise SettingRefused("data_folder", f"holds {turn.name} in its secrets; remove that folder.")
