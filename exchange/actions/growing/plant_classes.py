"""Groups and sizes of varieties: rows of the circle, which its names helper may change."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime

from exchange.actions.kernel.actor import Actor, note
from exchange.actions.kernel.edits import must_be_as_opened, version_of
from exchange.actions.kernel.refusals import RefusedError
from exchange.domain.growing.names import one_line
from exchange.domain.growing.plant_class import USUAL_SOCIETY, ClassSort, PlantClass, usual_classes
from exchange.domain.growing.variety import Species
from exchange.domain.permissions import Permission, may
from exchange.records import PLANT_CLASSES, VARIETIES, Tx

LONGEST_LABEL = 60
ROW = ("label", "society", "position")
"""What the form of a class edits: the columns its version is made of."""


class PlantClassRefusedError(RefusedError):
    """The group or size cannot be kept so."""


@dataclass(frozen=True, slots=True)
class NewClass:
    """A group or a size as it is written down."""

    species: Species
    sort: ClassSort
    label: str
    society: str = ""


@dataclass(frozen=True, slots=True)
class ClassesPage:
    """All classes, in order.

    Attributes
    ----------
    used : how many varieties stand in each [class id -> varieties]
    may_change : whether the reader may change them
    """

    classes: tuple[PlantClass, ...]
    used: Mapping[int, int]
    may_change: bool

    def version(self, one: PlantClass) -> str:
        """Give the version of a row, for its form."""
        return version_of(one, ROW)


def classes_page(actor: Actor) -> ClassesPage:
    """Give the circle's groups and sizes."""
    actor.must(Permission.SEE_CIRCLE)
    with actor.books.reading() as tx:
        used: dict[int, int] = {}
        for one in VARIETIES.all(tx, actor.circle_id, merged_into=None):
            for class_id in (one.group_id, one.size_id):
                if class_id is not None:
                    used[class_id] = used.get(class_id, 0) + 1
        return ClassesPage(
            PLANT_CLASSES.all(tx, actor.circle_id), used, may(actor.person, Permission.MEND_NAMES)
        )


def add_class(actor: Actor, new: NewClass, now: datetime) -> int:
    """Write a group or a size down, after the others of its kind."""
    actor.must(Permission.MEND_NAMES)
    with actor.books.writing() as tx:
        class_id = _add(tx, actor, new)
        note(tx, actor, f"added a {new.sort.value}", new.label, now)
    return class_id


def take_usual_classes(actor: Actor, species: Species, now: datetime) -> int:
    """Write down the groups and sizes most societies use, and give how many were new."""
    actor.must(Permission.MEND_NAMES)
    with actor.books.writing() as tx:
        there = {
            (one.sort, one.label) for one in PLANT_CLASSES.all(tx, actor.circle_id, species=species)
        }
        new = [one for one in usual_classes(species) if one[:2] not in there]
        for sort, label, _position in new:
            _add(tx, actor, NewClass(species, sort, label, USUAL_SOCIETY))
        if new:
            note(tx, actor, "took the usual groups and sizes", species.value, now)
    return len(new)


def change_class(
    actor: Actor, class_id: int, label: str, society: str, now: datetime, *, opened: str | None
) -> None:
    """Change what a group or a size is called, for every variety in it."""
    actor.must(Permission.MEND_NAMES)
    with actor.books.writing() as tx:
        one = PLANT_CLASSES.get(tx, actor.circle_id, class_id)
        must_be_as_opened(opened, version_of(one, ROW))
        new = _checked(NewClass(one.species, one.sort, label, society))
        there = _same(tx, actor, new)
        if there is not None and there.id != class_id:
            raise PlantClassRefusedError("There is one of that name already.", "label")
        PLANT_CLASSES.change(tx, actor.circle_id, class_id, label=new.label, society=new.society)
        note(tx, actor, f"changed a {one.sort.value}", f"{one.label}, now {new.label}", now)


def remove_class(actor: Actor, class_id: int, now: datetime) -> None:
    """Remove a group or a size in which no variety stands."""
    actor.must(Permission.MEND_NAMES)
    with actor.books.writing() as tx:
        one = PLANT_CLASSES.get(tx, actor.circle_id, class_id)
        if VARIETIES.all(tx, actor.circle_id, group_id=class_id) or VARIETIES.all(
            tx, actor.circle_id, size_id=class_id
        ):
            raise PlantClassRefusedError(
                f"Varieties are still classed as {one.label}; class them otherwise first."
            )
        PLANT_CLASSES.remove(tx, actor.circle_id, class_id)
        note(tx, actor, f"removed a {one.sort.value}", one.label, now)


def _add(tx: Tx, actor: Actor, new: NewClass) -> int:
    new = _checked(new)
    if _same(tx, actor, new) is not None:
        raise PlantClassRefusedError("There is one of that name already.", "label")
    others = PLANT_CLASSES.all(tx, actor.circle_id, species=new.species, sort=new.sort)
    return PLANT_CLASSES.add(
        tx,
        actor.circle_id,
        species=new.species,
        sort=new.sort,
        label=new.label,
        society=new.society,
        position=max((one.position for one in others), default=0) + 1,
    )


def _same(tx: Tx, actor: Actor, new: NewClass) -> PlantClass | None:
    return PLANT_CLASSES.find(
        tx,
        actor.circle_id,
        species=new.species,
        sort=new.sort,
        label=new.label,
        society=new.society,
    )


def _checked(new: NewClass) -> NewClass:
    label, society = one_line(new.label), one_line(new.society)
    if not 1 <= len(label) <= LONGEST_LABEL or len(society) > LONGEST_LABEL:
        raise PlantClassRefusedError(f"Write a name of at most {LONGEST_LABEL} letters.", "label")
    return NewClass(new.species, new.sort, label, society)
