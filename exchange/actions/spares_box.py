"""The box: spares one a line; doubtful names are asked about in one table, none is ever merged."""

from dataclasses import dataclass
from datetime import date, datetime

from exchange.actions.actor import Actor, note
from exchange.actions.refused import RefusedError
from exchange.actions.spares import NewSpare, add_spare
from exchange.actions.varieties import add_variety, find_name
from exchange.domain.growing.batch import Material, Raised
from exchange.domain.growing.variety import Species, Variety
from exchange.domain.permissions import Permission, Subject
from exchange.domain.sharing.listing import ListedLine, UnreadLine, read_lines
from exchange.words.phrase import _


class LineRefusedError(RefusedError):
    """One line of the box cannot be listed; nothing of the box is."""


@dataclass(frozen=True, slots=True)
class BoxLine:
    """One line of the box and what the circle knows of its name.

    Attributes
    ----------
    listed : what was understood, None for a line nothing could be made of
    fault : sentence for a line nothing could be made of
    variety : the variety of exactly this name, or None
    candidates : varieties that may be meant, to choose from
    doubtful : whether the person is asked
    """

    number: int
    text: str
    listed: ListedLine | None
    fault: str
    variety: Variety | None
    candidates: tuple[Variety, ...]
    doubtful: bool


@dataclass(frozen=True, slots=True)
class Decision:
    """What the person decided for a line.

    Attributes
    ----------
    variety_id : an existing variety, or None to add the name as a new one of the species
    """

    number: int
    name: str
    count: int
    material: Material
    raised: Raised
    variety_id: int | None
    species: Species


@dataclass(frozen=True, slots=True)
class Window:
    """The days and the looking-over that hold for the whole box."""

    ready_from: date
    send_by: date
    health_by: str = ""
    health_on: date | None = None


def read_box(actor: Actor, text: str) -> tuple[BoxLine, ...]:
    """Read the box and look every name up; nothing is listed yet."""
    actor.must(Permission.KEEP_OWN, Subject(owner=actor.own_household()))
    with actor.books.reading() as tx:
        lines = []
        for line in read_lines(text):
            if isinstance(line, UnreadLine):
                lines.append(_unread(line))
                continue
            found = find_name(tx, actor.circle_id, line.name, line.species)
            lines.append(
                BoxLine(
                    line.number,
                    line.text,
                    line,
                    "",
                    found.variety,
                    (() if found.variety else found.others + found.near),
                    doubtful=found.variety is None or not line.sure,
                )
            )
    return tuple(lines)


def list_box(
    actor: Actor, decisions: tuple[Decision, ...], window: Window, now: datetime
) -> tuple[int, ...]:
    """List every decided line, all or none.

    Raises
    ------
    LineRefusedError
        Naming the line that cannot be listed.
    """
    actor.must(Permission.KEEP_OWN, Subject(owner=actor.own_household()))
    ids = []
    with actor.books.writing() as tx:
        for decision in decisions:
            try:
                variety_id = decision.variety_id
                if variety_id is None:
                    variety_id = add_variety(tx, actor, decision.name, decision.species).id
                new = NewSpare(
                    variety_id,
                    decision.material,
                    decision.raised,
                    decision.count,
                    window.ready_from,
                    window.send_by,
                    health_by=window.health_by,
                    health_on=window.health_on,
                )
                ids.append(add_spare(tx, actor, new, now))
            except RefusedError as refused:
                raise LineRefusedError(
                    _("Line {number}, {name}: {what}").format(
                        number=decision.number, name=decision.name, what=refused
                    ),
                    refused.field,
                ) from refused
        note(tx, actor, "listed spares", f"{len(ids)} lines", now)
    return tuple(ids)


def _unread(line: UnreadLine) -> BoxLine:
    faults = {
        "no name": _("There is no name on this line."),
        "count": _("The number must be from 1 to 1000."),
        "too long": _("The name is too long."),
    }
    return BoxLine(line.number, line.text, None, faults[line.fault], None, (), doubtful=True)
