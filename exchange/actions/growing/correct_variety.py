"""Mending a variety: its name and kind, the name it is sold by, its classes; taking it off the list."""

from dataclasses import dataclass
from datetime import datetime

from exchange.actions.growing.varieties import VarietyNameRefusedError
from exchange.actions.kernel.actor import Actor, note
from exchange.actions.kernel.edits import must_be_as_opened, version_of
from exchange.actions.kernel.refusals import RefusedError
from exchange.actions.kernel.tasks import ask
from exchange.domain.growing.names import LONGEST_NAME, fold, tidied
from exchange.domain.growing.plant_class import ClassSort
from exchange.domain.growing.variety import Species
from exchange.domain.permissions import Permission, may
from exchange.domain.sharing.states import STANDING
from exchange.records import ALLOCATIONS, BATCHES, CLAIMS, PLANT_CLASSES, SPARES, VARIETIES, Tx
from exchange.records.rows.growing import VarietyRow
from exchange.records.varieties import variety_meant_by

NAME = ("name", "species", "trade_name", "group_id", "size_id")
"""What the form of a variety's name edits: the columns its version is made of."""


class NotYoursAloneError(RefusedError):
    """Others have plants, spares or claims under the name."""


class NotEmptyVarietyError(RefusedError):
    """Something still stands under the variety."""


class ClassRefusedError(RefusedError):
    """The group or size is not one of that kind of plant."""


@dataclass(frozen=True, slots=True)
class Corrected:
    """A variety as it should read.

    Attributes
    ----------
    name : the epithet
    trade_name : what it is sold as, empty where that is the epithet
    group_id, size_id : its classes, None where nobody has said
    """

    name: str
    species: Species
    trade_name: str = ""
    group_id: int | None = None
    size_id: int | None = None


def correct_variety(
    actor: Actor, variety_id: int, said: Corrected, now: datetime, *, opened: str | None = None
) -> None:
    """Correct a variety's name, kind and classes; all that is recorded under it stays.

    Raises
    ------
    NotYoursAloneError, VarietyNameRefusedError, ClassRefusedError
    """
    actor.must(Permission.SEE_CIRCLE)
    with actor.books.writing() as tx:
        variety = variety_meant_by(tx, actor.circle_id, variety_id)
        must_mend(tx, actor, variety)
        must_be_as_opened(opened, version_of(variety, NAME))
        name = _free_name(tx, actor, variety, said)
        for sort, class_id in ((ClassSort.GROUP, said.group_id), (ClassSort.SIZE, said.size_id)):
            _must_fit(tx, actor, said.species, sort, class_id)
        VARIETIES.change(
            tx,
            actor.circle_id,
            variety.id,
            name=name,
            folded=fold(name),
            species=said.species,
            trade_name=tidied(said.trade_name)[:LONGEST_NAME],
            group_id=said.group_id,
            size_id=said.size_id,
        )
        what = name if name == variety.name else f"{variety.name}, now {name}"
        note(tx, actor, "corrected a variety", what, now)
        ask(tx, actor, "plan", None, now)


def remove_variety(actor: Actor, variety_id: int, now: datetime) -> None:
    """Take a variety off the list under which nothing stands any more.

    Raises
    ------
    NotYoursAloneError, NotEmptyVarietyError
    """
    actor.must(Permission.SEE_CIRCLE)
    with actor.books.writing() as tx:
        variety = variety_meant_by(tx, actor.circle_id, variety_id)
        must_mend(tx, actor, variety)
        standing = in_its_way(tx, actor.circle_id, variety.id)
        if standing:
            raise NotEmptyVarietyError(standing)
        if variety.removed_at is None:
            VARIETIES.change(tx, actor.circle_id, variety.id, removed_at=now)
            note(tx, actor, "removed a variety", variety.name, now)


def put_variety_back(actor: Actor, variety_id: int, now: datetime) -> None:
    """Undo the removal of a variety."""
    actor.must(Permission.SEE_CIRCLE)
    with actor.books.writing() as tx:
        variety = variety_meant_by(tx, actor.circle_id, variety_id)
        if variety.removed_at is not None:
            VARIETIES.change(tx, actor.circle_id, variety.id, removed_at=None)
            note(tx, actor, "put a variety back", variety.name, now)


def must_mend(tx: Tx, actor: Actor, variety: VarietyRow) -> None:
    """Refuse unless the actor looks after names, or nobody else has anything under this one."""
    if actor.clock or may(actor.person, Permission.MEND_NAMES):
        return
    if _others_have(tx, actor, variety.id):
        raise NotYoursAloneError(
            "Others grow, offer or ask for it too. Tell the organiser what its name should be."
        )


def in_its_way(tx: Tx, circle_id: int, variety_id: int) -> str:
    """Say in a sentence what keeps a variety from being removed; empty where nothing does."""
    if any(one.plants for one in BATCHES.all(tx, circle_id, variety_id=variety_id)):
        return "Somebody still has living plants of it."
    if SPARES.all(tx, circle_id, variety_id=variety_id, withdrawn_at=None):
        return "Spares of it are still listed."
    if CLAIMS.all(tx, circle_id, variety_id=variety_id, withdrawn_at=None):
        return "Somebody still asks for it."
    spares = SPARES.by_id(tx, circle_id, variety_id=variety_id)
    if ALLOCATIONS.all(tx, circle_id, spare_id=set(spares), state=STANDING):
        return "Plants of it were given to somebody; its name stays with them."
    return ""


def _others_have(tx: Tx, actor: Actor, variety_id: int) -> bool:
    circle_id = actor.circle_id
    batches = BATCHES.all(tx, circle_id, variety_id=variety_id)
    households = {
        *(one.household_id for one in batches if one.plants),
        *(one.household_id for one in SPARES.all(tx, circle_id, variety_id=variety_id)),
        *(one.household_id for one in CLAIMS.all(tx, circle_id, variety_id=variety_id)),
    }
    return bool(households - {actor.household_id})


def _free_name(tx: Tx, actor: Actor, variety: VarietyRow, said: Corrected) -> str:
    """Give the name as it is kept, or refuse it."""
    name = tidied(said.name)
    if not fold(name):
        raise VarietyNameRefusedError("Write the name of the variety.", "name")
    if len(name) > LONGEST_NAME:
        raise VarietyNameRefusedError(
            f"That name is longer than {LONGEST_NAME} letters; write it shorter.", "name"
        )
    there = VARIETIES.find(tx, actor.circle_id, species=said.species, folded=fold(name))
    if there is None or there.id == variety.id:
        return name
    if there.merged_into == variety.id:
        raise VarietyNameRefusedError(
            f"{there.name} was made one with it; undo that first, or leave the name as it is.",
            "name",
        )
    raise VarietyNameRefusedError(
        "The circle has another of that kind and name. If they are one, make them one.", "name"
    )


def _must_fit(
    tx: Tx, actor: Actor, species: Species, sort: ClassSort, class_id: int | None
) -> None:
    if class_id is not None and not PLANT_CLASSES.all(
        tx, actor.circle_id, id=class_id, species=species, sort=sort
    ):
        raise ClassRefusedError(
            "That is a class of another kind of plant; choose one of its own, or none.",
            f"{sort.value}_id",
        )
