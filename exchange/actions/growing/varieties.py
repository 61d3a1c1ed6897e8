"""What members say of varieties: the name, how it keeps, whether it must not be lost."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

from exchange.actions.kernel.actor import Actor, note
from exchange.actions.kernel.edits import must_be_as_opened, version_of
from exchange.actions.kernel.refusals import RefusedError
from exchange.domain.growing.names import LONGEST_NAME, fold, near, one_line, tidied
from exchange.domain.growing.variety import BEGONIAS, Keeps, Species, Variety
from exchange.domain.permissions import Permission, Subject
from exchange.records import BATCHES, SPARES, VARIETIES, Tx
from exchange.records.varieties import names_known, taken_up, variety_meant_by

MOST_PLACES = 100
LONGEST_REMARK = 300
MARKS = (
    "keeps",
    "must_not_be_lost",
    "must_not_be_lost_because",
    "target_places",
    "protected",
    "authority",
)
"""What the form of a variety's marks edits: the columns its version is made of."""
USUAL_AUTHORITY = "the Plant Variety Rights Office, or the office named on the plant's label"


class VarietyNameRefusedError(RefusedError):
    """The name cannot be kept."""


class MarksRefusedError(RefusedError):
    """The marks cannot be kept as they are."""


class NotAHolderError(RefusedError):
    """Only a holder or the organiser may say this of a variety."""


@dataclass(frozen=True, slots=True)
class NameFound:
    """What the circle knows about a typed name.

    Attributes
    ----------
    variety : the variety of exactly this name, or None
    others : the same name in other kinds of plant
    near : varieties that may be meant
    """

    variety: Variety | None
    others: tuple[Variety, ...]
    near: tuple[Variety, ...]


@dataclass(frozen=True, slots=True)
class Marks:
    """What is said of a variety.

    Attributes
    ----------
    begonia : of a begonia, whether it grows from a tuber or for its leaves; None leaves it as it is
    """

    keeps: Keeps
    must_not_be_lost: bool
    because: str
    target_places: int
    protected: bool
    authority: str
    begonia: Species | None = None


def look_up(actor: Actor, name: str, species: Species | None) -> NameFound:
    """Look a typed name up, to ask which variety is meant."""
    actor.must(Permission.SEE_CIRCLE)
    with actor.books.reading() as tx:
        return find_name(names_known(tx, actor.circle_id), name, species)


def find_name(known: Sequence[Variety], name: str, species: Species | None) -> NameFound:
    """Look a name up among known varieties; near ones are for asking, never for merging."""
    folded = fold(name)
    same = tuple(one for one in known if fold(one.name) == folded)
    exact = tuple(one for one in same if species in (None, one.species))
    if len(exact) == 1:
        return NameFound(exact[0], tuple(one for one in same if one != exact[0]), ())
    names = near(name, (one.name for one in known))
    alike = tuple(one for wanted in names for one in known if one.name == wanted)
    return NameFound(None, same, alike)


def may_mean(name: str, variety: Variety) -> bool:
    """Say whether a typed name is, or is near, the name of a variety."""
    return fold(name) == fold(variety.name) or bool(near(name, (variety.name,)))


def add_variety(tx: Tx, actor: Actor, name: str, species: Species) -> Variety:
    """Keep a new name; the same name in the same kind of plant gives the existing variety."""
    cleaned = tidied(name)
    if not fold(cleaned):
        raise VarietyNameRefusedError("Write the name of the variety.", "name")
    if len(cleaned) > LONGEST_NAME:
        raise VarietyNameRefusedError(
            f"That name is longer than {LONGEST_NAME} letters; write it shorter.",
            "name",
        )
    there = VARIETIES.find(tx, actor.circle_id, species=species, folded=fold(cleaned))
    if there is not None:
        return taken_up(tx, actor.circle_id, there.id)
    variety_id = VARIETIES.add(
        tx, actor.circle_id, species=species, name=cleaned, folded=fold(cleaned)
    )
    return VARIETIES.get(tx, actor.circle_id, variety_id)


def name_variety(actor: Actor, name: str, species: Species, now: datetime) -> Variety:
    """Keep a new variety of the circle."""
    actor.must(Permission.SEE_CIRCLE)
    with actor.books.writing() as tx:
        variety = add_variety(tx, actor, name, species)
        note(tx, actor, "named a variety", variety.name, now)
    return variety


def mark_variety(
    actor: Actor, variety_id: int, marks: Marks, now: datetime, *, opened: str | None = None
) -> None:
    """Say how a variety keeps, whether it must not be lost, and whether it is protected.

    What is listed of a variety when it is marked as protected is held from then on.
    """
    actor.must(Permission.SEE_CIRCLE)
    with actor.books.writing() as tx:
        variety = variety_meant_by(tx, actor.circle_id, variety_id)
        variety_id = variety.id
        _must_hold(tx, actor, variety)
        must_be_as_opened(opened, version_of(variety, MARKS))
        _check_marks(actor, variety, marks)
        if marks.begonia is not None and marks.begonia is not variety.species:
            _tell_begonia(tx, actor, variety, marks.begonia)
        authority = tidied(marks.authority)[:LONGEST_REMARK]
        VARIETIES.change(
            tx,
            actor.circle_id,
            variety_id,
            keeps=marks.keeps,
            must_not_be_lost=marks.must_not_be_lost,
            must_not_be_lost_because=_remark(marks.because) if marks.must_not_be_lost else "",
            target_places=marks.target_places,
            protected=marks.protected,
            authority=authority or (USUAL_AUTHORITY if marks.protected else ""),
        )
        if marks.protected and not variety.protected:
            _hold_spares(tx, actor.circle_id, variety_id)
        note(tx, actor, "marked a variety", variety.name, now)


def say_begonia(actor: Actor, variety_id: int, species: Species | None, now: datetime) -> None:
    """Say of a begonia whether it grows from a tuber or for its leaves; saying the same again changes nothing.

    Parameters
    ----------
    species : None where neither was said, which is refused
    """
    actor.must(Permission.SEE_CIRCLE)
    with actor.books.writing() as tx:
        variety = variety_meant_by(tx, actor.circle_id, variety_id)
        variety_id = variety.id
        _must_hold(tx, actor, variety)
        if species is variety.species:
            return
        if species is None:
            raise MarksRefusedError(
                "Say whether it grows from a tuber or for its leaves.", "begonia"
            )
        _tell_begonia(tx, actor, variety, species)
        note(tx, actor, "said what kind of begonia it is", variety.name, now)


def _tell_begonia(tx: Tx, actor: Actor, variety: Variety, species: Species) -> None:
    """Keep what kind of begonia a variety is, unless that name is taken there."""
    if not {variety.species, species} <= BEGONIAS:
        raise MarksRefusedError("Only a begonia can be told so.", "begonia")
    folded = fold(variety.name)
    if VARIETIES.find(tx, actor.circle_id, species=species, folded=folded) is not None:
        raise MarksRefusedError("The circle has another begonia of that kind and name.", "begonia")
    VARIETIES.change(tx, actor.circle_id, variety.id, species=species)


def _remark(text: str) -> str:
    return one_line(text)[:LONGEST_REMARK]


def _check_marks(actor: Actor, variety: Variety, marks: Marks) -> None:
    if marks.must_not_be_lost and not _remark(marks.because):
        raise MarksRefusedError("Say in a few words why it must not be lost.", "because")
    if not 1 <= marks.target_places <= MOST_PLACES:
        raise MarksRefusedError(
            f"Write in how many places it should stand, from 1 to {MOST_PLACES}.",
            "target_places",
        )
    if variety.protected and not marks.protected and not (actor.organiser or actor.clock):
        raise MarksRefusedError(
            "Only the organiser takes this mark off, after asking the authority.", "protected"
        )


def _hold_spares(tx: Tx, circle_id: int, variety_id: int) -> None:
    for spare in SPARES.all(tx, circle_id, variety_id=variety_id, withdrawn_at=None, held=False):
        if not spare.allocated:
            SPARES.change(tx, circle_id, spare.id, held=True)


def _must_hold(tx: Tx, actor: Actor, variety: Variety) -> None:
    if actor.organiser or actor.clock:
        return
    actor.must(Permission.KEEP_OWN, Subject(owner=actor.household_id))
    held = BATCHES.all(
        tx, actor.circle_id, variety_id=variety.id, household_id=actor.own_household()
    )
    if not any(batch.plants for batch in held):
        raise NotAHolderError(
            "Only somebody who grows it, or the organiser, can say this of a variety.",
        )
