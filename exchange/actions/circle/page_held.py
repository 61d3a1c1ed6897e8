"""What is held of a member: every row as a file, and the same to be read."""

import json
from dataclasses import dataclass
from datetime import UTC, datetime
from typing import Any

from exchange.actions.kernel.actor import Actor, NotAllowedError, circle_of
from exchange.domain.permissions import Permission
from exchange.records import VARIETIES
from exchange.records.held import held_of
from exchange.words.circle import held as words

FORM = 1
"""The form of the file."""


@dataclass(frozen=True, slots=True)
class HeldOfMember:
    """What is held of somebody.

    Attributes
    ----------
    name : full name
    whole : every row, as plain values for JSON
    """

    name: str
    whole: dict[str, Any]

    @property
    def json(self) -> str:
        return json.dumps(self.whole, ensure_ascii=False, indent=1) + "\n"

    @property
    def text(self) -> str:
        return words.as_text(self.whole["tables"], self.whole["varieties"])


def held(actor: Actor, now: datetime) -> HeldOfMember:
    """Give what is held of the member, or of the member acted for; passwords and secrets are left out.

    Raises
    ------
    NotAllowedError
        When nobody is asked about.
    """
    actor.must(Permission.SEE_CIRCLE)
    member_id = actor.acting_for or actor.member_id
    if member_id is None:
        raise NotAllowedError("Only a member can do this.")
    with actor.books.reading() as tx:
        tables = held_of(tx, actor.circle_id, member_id)
        named = {
            row[key]
            for rows in tables.values()
            for row in rows
            for key in row
            if key == "variety_id"
        }
        varieties = {
            str(one.id): one.name for one in VARIETIES.all(tx, actor.circle_id) if one.id in named
        }
        circle = circle_of(actor, tx)
    (member,) = tables["member"]
    whole = {
        "form": FORM,
        "circle": circle.name,
        "made_at": now.astimezone(UTC).isoformat(),
        "varieties": varieties,
        "tables": tables,
    }
    return HeldOfMember(f"{member['first_name']} {member['surname']}".strip(), whole)
