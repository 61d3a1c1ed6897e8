"""What the rows of a spreadsheet made, and taking it back as a whole until something was built on it."""

from collections.abc import Iterable, Mapping
from dataclasses import fields
from typing import Any

from exchange.actions.kernel.actor import Actor
from exchange.actions.kernel.edits import version_of
from exchange.actions.kernel.refusals import RefusedError
from exchange.records import (
    ALLOCATIONS,
    AWAY,
    BATCHES,
    CLAIMS,
    HOUSEHOLDS,
    MEMBERS,
    PARCELS,
    PLACES,
    SHELTERS,
    SPARES,
    VARIETIES,
    Tx,
)

Made = dict[str, dict[str, str]]
"""What was made [noun -> id -> version as it was made]."""

_NOUNS: Mapping[str, Any] = {
    "claim": CLAIMS,
    "spare": SPARES,
    "batch": BATCHES,
    "variety": VARIETIES,
    "place": PLACES,
    "member": MEMBERS,
    "household": HOUSEHOLDS,
}
"""Nouns in the order in which they can be removed."""

COUNTED = "counted"
"""Of batches that were there: what they were counted as before [id -> plants]."""


class BuiltOnError(RefusedError):
    """Something was built on what the file made, so it cannot be taken back as a whole."""


def last_ids(tx: Tx, actor: Actor) -> dict[str, int]:
    """Give the last row of each noun, so that those made after it can be told [noun -> id]."""
    return {
        noun: max((one.id for one in repository.all(tx, actor.circle_id)), default=0)
        for noun, repository in _NOUNS.items()
    }


def made_since(tx: Tx, actor: Actor, last: Mapping[str, int]) -> Made:
    """Give what was made since then; nobody else writes within an act."""
    return {
        noun: {
            str(one.id): _version(one)
            for one in repository.all(tx, actor.circle_id)
            if one.id > last[noun]
        }
        for noun, repository in _NOUNS.items()
    }


def joined(first: Made, second: Made) -> Made:
    """Give what two lots of rows made together; what was made first keeps its version unless it changed."""
    nouns = dict.fromkeys([*first, *second])
    return {noun: {**second.get(noun, {}), **first.get(noun, {})} for noun in nouns}


def remove_made(tx: Tx, actor: Actor, made: Made) -> int:
    """Take back everything, within an act; gives how many rows were removed.

    Raises
    ------
    BuiltOnError
        When something was changed, or now rests on it; then nothing is taken back.
    """
    _must_be_untouched(tx, actor, made)
    _must_carry_nothing(tx, actor, made)
    removed = 0
    for noun, repository in _NOUNS.items():
        for row_id in sorted((int(one) for one in made.get(noun, {})), reverse=True):
            repository.remove(tx, actor.circle_id, row_id)
            removed += 1
    for batch_id, counts in made.get(COUNTED, {}).items():
        BATCHES.change(tx, actor.circle_id, int(batch_id), plants=int(counts.partition("/")[0]))
    return removed


def _must_be_untouched(tx: Tx, actor: Actor, made: Made) -> None:
    for noun, repository in _NOUNS.items():
        there = {str(one.id): one for one in repository.all(tx, actor.circle_id)}
        for row_id, version in made.get(noun, {}).items():
            if row_id not in there or _version(there[row_id]) != version:
                raise BuiltOnError(
                    f"A {noun} of this file was changed since, so the whole cannot be taken back."
                )
    counted = {str(one.id): one.plants for one in BATCHES.all(tx, actor.circle_id)}
    for row_id, plants in made.get(COUNTED, {}).items():
        if counted.get(row_id) != int(plants.partition("/")[2]):
            raise BuiltOnError(
                "Plants were counted again since, so the whole cannot be taken back."
            )


def _must_carry_nothing(tx: Tx, actor: Actor, made: Made) -> None:
    """Refuse where a row that the file did not make points at one that it made."""
    here = actor.circle_id
    households, places = _ids(made, "household"), _ids(made, "place")
    varieties, batches = _ids(made, "variety"), _ids(made, "batch")
    spares, claims = _ids(made, "spare"), _ids(made, "claim")
    rests = [
        *ALLOCATIONS.all(tx, here, spare_id=spares),
        *ALLOCATIONS.all(tx, here, claim_id=claims),
        *(one for one in SPARES.all(tx, here, variety_id=varieties) if one.id not in spares),
        *(one for one in SPARES.all(tx, here, household_id=households) if one.id not in spares),
        *(one for one in SPARES.all(tx, here, set_aside_for=households) if one.id not in spares),
        *(one for one in SPARES.all(tx, here) if one.batch_id in batches and one.id not in spares),
        *(one for one in CLAIMS.all(tx, here, variety_id=varieties) if one.id not in claims),
        *(one for one in CLAIMS.all(tx, here, household_id=households) if one.id not in claims),
        *(one for one in CLAIMS.all(tx, here) if varieties & set(one.alternatives)),
        *(one for one in BATCHES.all(tx, here, variety_id=varieties) if one.id not in batches),
        *(one for one in BATCHES.all(tx, here, household_id=households) if one.id not in batches),
        *SHELTERS.all(tx, here, place_id=places),
        *AWAY.all(tx, here, household_id=households),
        *(
            one
            for one in MEMBERS.all(tx, here, household_id=households)
            if one.id not in _ids(made, "member")
        ),
        *(
            one
            for one in PARCELS.all(tx, here)
            if {one.sender_household_id, one.receiver_household_id} & households
        ),
    ]
    if rests:
        raise BuiltOnError(
            "Something rests on a row of this file by now, so the whole cannot be taken back. Take single things back where they stand."
        )


def _ids(made: Made, noun: str) -> frozenset[int]:
    return frozenset(int(one) for one in made.get(noun, {}))


def _version(row: Any) -> str:
    return version_of(row, _names(row))


def _names(row: Any) -> Iterable[str]:
    return [one.name for one in fields(row)]
