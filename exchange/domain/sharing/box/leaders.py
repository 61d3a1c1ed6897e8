"""Whose lines are: a member's name before a line or above lines; and which choice a wish is."""

import re
from collections.abc import Iterable
from dataclasses import replace

from exchange.domain.growing.names import fold
from exchange.domain.sharing.box.entry import BoxDoubt, BoxEntry, What, Why

_CHOICE = re.compile(
    r"[\s,;(]*\b(?:(first|1st)|(second|2nd)|(?:third|3rd))\s+choice\b[)\s,;:]*", re.IGNORECASE
)
_AFTER_A_NAME = re.compile(r"\s*(?:[:\t;|]|\s[-–—]\s)\s*")


def led_by(line: str, leaders: Iterable[str]) -> tuple[str, str]:
    """Give the member whose name leads a line, empty where none does, and the rest of the line."""
    for name in sorted(leaders, key=len, reverse=True):
        found = re.match(re.escape(name) + r"(?!\w)(?!['’]s)", line, re.IGNORECASE)
        if not found:
            continue
        rest = line[found.end() :]
        if fold(rest.strip(" :.,")) == "":
            return name, ""
        mark = _AFTER_A_NAME.match(rest)
        if mark:
            return name, rest[mark.end() :]
    return "", line


def without_choice(line: str) -> tuple[int | None, str]:
    """Give which choice a line says it is, 1, 2 or 3, and the line without it."""
    found = _CHOICE.search(line)
    if not found:
        return None, line
    choice = 1 if found.group(1) else 2 if found.group(2) else 3
    return choice, f"{line[: found.start()]} {line[found.end() :]}".strip()


def whose(entries: tuple[BoxEntry, ...]) -> tuple[BoxEntry, ...]:
    """Ask whose a line is, where some lines are led by a name and others are not, or a name ends the lines."""
    heads = [at for at, one in enumerate(entries) if one.leader and one.what is What.OUT]
    if not any(one.leader for one in entries):
        return entries
    kept = [at for at, one in enumerate(entries) if one.what is not What.OUT]
    ends = any(entries[at].why is Why.SIGNATURE for at in heads) or (
        bool(heads) and bool(kept) and heads[-1] > kept[-1]
    )
    return tuple(
        replace(one, doubts=one.doubts | {BoxDoubt.WHOSE})
        if one.what is not What.OUT and (ends or not one.leader)
        else one
        for one in entries
    )
