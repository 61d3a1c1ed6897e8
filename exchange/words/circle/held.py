"""What is held of a member, to be read: the rows of each kind, one line each."""

from collections.abc import Mapping, Sequence
from types import MappingProxyType
from typing import Any

from exchange.words.kernel.chances import in_hundred
from exchange.words.kernel.phrase import NBSP

TITLES = MappingProxyType(
    {
        "account": "Your sign-in",
        "member": "You",
        "household": "Your household",
        "place": "Where you grow",
        "shelter": "Shelters",
        "away": "Days away",
        "batch": "Plants",
        "spare": "Spares",
        "claim": "Claims",
        "allocation": "What was given",
        "claim_answer": "What your claims got, and why",
        "parcel": "Parcels",
        "parcel_line": "What was in them",
        "letter": "Letters to you",
        "diary_entry": "Dates",
        "deed": "Who did what",
        "calendar_address": "Calendars",
        "one_time_link": "Links made for you",
        "frost_note": "Frost you told of",
        "observation": "Nights you read",
        "daily_file": "Weather files you brought",
        "place_skill": "What was learnt of the forecast at your place",
        "task": "Work you asked for",
    }
)
"""What each kind of row is called; one that is not here has its own name."""
LEFT_OUT = frozenset({"id", "circle_id", "plan", "days", "climate", "sequence", "key", "result"})
"""Columns that say nothing to a reader; they are in the file."""
CHANCES = frozenset({"loss_chance", "announced_loss"})
"""Columns that hold a chance of loss."""
MOST_LINES = 400
"""Lines of a kind that are written out; the file has them all."""


def as_text(tables: Mapping[str, Sequence[Mapping[str, Any]]], varieties: Mapping[str, str]) -> str:
    """Give every row as a line: "variety: Chapel Lantern; plants: 3"."""
    parts = []
    for name, rows in tables.items():
        lines = [_line(row, varieties) for row in rows[:MOST_LINES]]
        if len(rows) > MOST_LINES:
            lines.append(f"and {len(rows) - MOST_LINES}{NBSP}more, in the file")
        parts.append("\n".join([title(name), *(f"- {line}" for line in lines if line)]))
    return "\n\n".join(parts)


def title(table: str) -> str:
    """Give what a kind of row is called."""
    return TITLES.get(table, table.replace("_", " ").capitalize())


def _line(row: Mapping[str, Any], varieties: Mapping[str, str]) -> str:
    said = []
    for name, value in row.items():
        if name in LEFT_OUT or value in (None, "", [], {}):
            continue
        if name == "variety_id":
            said.append(f"variety: {varieties.get(str(value), value)}")
        elif not name.endswith("_id"):
            told = in_hundred(value) if name in CHANCES else _value(value)
            said.append(f"{name.replace('_', ' ')}: {told}")
    return "; ".join(said)


def _value(value: Any) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, Mapping):
        return str(value.get("sentence", ", ".join(f"{key} {one}" for key, one in value.items())))
    if isinstance(value, list):
        return ", ".join(map(str, value))
    return str(value).replace("\n", " / ").removesuffix(" / ")
