"""Which variety a typed name means: an existing one, or a new one kept in the same act."""

from dataclasses import dataclass
from datetime import datetime

from exchange.actions.growing.varieties import add_variety, find_name
from exchange.actions.kernel.actor import Actor, note
from exchange.actions.kernel.refusals import RefusedError
from exchange.domain.growing.variety import Species, Variety
from exchange.domain.permissions import Permission
from exchange.records import Tx
from exchange.records.varieties import names_known, taken_up, variety_meant_by


class NameInDoubtError(RefusedError):
    """The circle has names like the one typed, and nobody has said which is meant."""


@dataclass(frozen=True, slots=True)
class TypedName:
    """A name as it was typed, and what was said of it where it was in doubt.

    Attributes
    ----------
    chosen : the variety chosen among those that may be meant, or None
    new : whether it was said to be a new one
    """

    name: str
    species: Species
    chosen: int | None = None
    new: bool = False


def find_or_name(actor: Actor, meant: TypedName, now: datetime) -> Variety:
    """Give the variety that a typed name means; a new name is kept.

    Raises
    ------
    NameInDoubtError, VarietyNameRefusedError
        As `variety_meant` does.
    """
    actor.must(Permission.SEE_CIRCLE)
    with actor.books.writing() as tx:
        return variety_meant(tx, actor, meant, now)


def variety_meant(tx: Tx, actor: Actor, meant: int | TypedName, now: datetime) -> Variety:
    """Give the variety that is meant, within an act; a new name is kept with what the act keeps.

    Raises
    ------
    NameInDoubtError
        When others may be meant and none was chosen.
    VarietyNameRefusedError
        When the name cannot be kept.
    """
    if isinstance(meant, int):
        return taken_up(tx, actor.circle_id, meant)
    found = find_name(names_known(tx, actor.circle_id), meant.name, meant.species)
    if found.variety is not None:
        return variety_meant_by(tx, actor.circle_id, found.variety.id)
    candidates = found.others + found.near
    for one in candidates:
        if one.id == meant.chosen:
            return variety_meant_by(tx, actor.circle_id, one.id)
    if candidates and not meant.new:
        raise NameInDoubtError("The circle has names like this one. Say which is meant.", "meant")
    variety = add_variety(tx, actor, meant.name, meant.species)
    note(tx, actor, "named a variety", variety.name, now)
    return variety
