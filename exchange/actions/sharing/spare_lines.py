"""The box: one spare per line; doubtful names are asked about in one table, none is ever merged."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime

from exchange.actions.growing.varieties import add_variety, find_name, may_mean
from exchange.actions.kernel.actor import Actor, note
from exchange.actions.kernel.refusals import RefusedError
from exchange.actions.sharing.spares import NewSpare, add_spare
from exchange.domain.growing.batch import Material, Raised
from exchange.domain.growing.names import LONGEST_NAME, fold
from exchange.domain.growing.variety import Species, Variety
from exchange.domain.permissions import Permission, Subject
from exchange.domain.sharing.listing import (
    MOST_LINES,
    MOST_PLANTS_A_LINE,
    ListedLine,
    TooManyLinesError,
    UnreadLine,
    read_lines,
)
from exchange.records import VARIETIES, Tx

OF_THE_WHOLE_BOX = frozenset({"ready_from", "send_by", "health_on", "place"})


class BoxRefusedError(RefusedError):
    """The box cannot be read as a whole."""


class LineRefusedError(RefusedError):
    """One line of the box cannot be listed; nor is anything else in the box.

    Attributes
    ----------
    number : the line, or 0 when the refusal is about the whole box
    """

    def __init__(self, sentence: str, field: str, number: int) -> None:
        super().__init__(sentence, field)
        self.number = number


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
class LineDecision:
    """What the person decided for a line; None in its place leaves the line out.

    Attributes
    ----------
    variety_id : an existing variety, or None to add the line's name as a new one of the species
    """

    count: int
    material: Material
    raised: Raised
    variety_id: int | None
    species: Species
    may_go: bool = False


@dataclass(frozen=True, slots=True)
class Window:
    """The days and the health check that hold for the whole box."""

    ready_from: date
    send_by: date
    health_by: str = ""
    health_on: date | None = None


def read_box(actor: Actor, text: str) -> tuple[BoxLine, ...]:
    """Read the box and look every name up; nothing is listed yet."""
    actor.must(Permission.KEEP_OWN, Subject(owner=actor.own_household()))
    lines = _lines(text)
    with actor.books.reading() as tx:
        known = VARIETIES.all(tx, actor.circle_id)
    return tuple(_looked_up(known, line) for line in lines)


def _lines(text: str) -> tuple[ListedLine | UnreadLine, ...]:
    try:
        lines = read_lines(text)
    except TooManyLinesError as many:
        raise BoxRefusedError(
            f"These are {many.lines} lines; list at most {MOST_LINES} at a time.",
            "lines",
        ) from many
    if not lines:
        raise BoxRefusedError("Write at least one line, such as 3 rooted and a name.", "lines")
    return tuple(lines)


def _looked_up(known: tuple[Variety, ...], line: ListedLine | UnreadLine) -> BoxLine:
    if isinstance(line, UnreadLine):
        return _unread(line)
    line = _named_whole(known, line)
    found = find_name(known, line.name, line.species)
    return BoxLine(
        line.number,
        line.text,
        line,
        "",
        found.variety,
        () if found.variety else found.others + found.near,
        doubtful=found.variety is None or not line.sure,
    )


def _named_whole(known: tuple[Variety, ...], line: ListedLine) -> ListedLine:
    """Take a line that reads in full as a known name for that name: "Seedling 12", "Cool Clump"."""
    names = {fold(one.name) for one in known}
    for whole, count in ((line.text, 1), (line.whole, line.count)):
        if whole != line.name and fold(whole) in names:
            return replace(line, name=whole, count=count, species=None, sure=False)
    return line


def list_box(
    actor: Actor,
    text: str,
    decisions: Sequence[LineDecision | None],
    window: Window,
    now: datetime,
) -> tuple[int, ...]:
    """List every decided line with its new name, all or none.

    Parameters
    ----------
    text : the box as it was read
    decisions : one per line, in order; None leaves the line out

    Raises
    ------
    LineRefusedError
        Naming the line that cannot be listed.
    """
    actor.must(Permission.KEEP_OWN, Subject(owner=actor.own_household()))
    lines = _lines(text)
    if len(lines) != len(decisions):
        raise BoxRefusedError("The lines have changed; read the box again.", "lines")
    wanted = [
        (line, decision)
        for line, decision in zip(lines, decisions, strict=True)
        if decision is not None and isinstance(line, ListedLine)
    ]
    if not wanted:
        raise BoxRefusedError("Every line is left out; nothing was listed.", "lines")
    with actor.books.writing() as tx:
        known = VARIETIES.all(tx, actor.circle_id)
        ids = []
        for line, decision in wanted:
            try:
                name = _named_whole(known, line).name
                variety = _variety(tx, actor, name, decision)
                ids.append(
                    add_spare(tx, actor, variety, _new_spare(variety, decision, window), now)
                )
            except RefusedError as refused:
                whole = refused.field in OF_THE_WHOLE_BOX
                number = 0 if whole else line.number
                raise LineRefusedError(str(refused), refused.field, number) from refused
        note(tx, actor, "listed spares", f"{len(ids)} lines", now)
    return tuple(ids)


def _variety(tx: Tx, actor: Actor, name: str, decision: LineDecision) -> Variety:
    """Give the variety that was chosen, if the name may mean it, or keep the name as a new one."""
    if decision.variety_id is None:
        return add_variety(tx, actor, name, decision.species)
    variety = VARIETIES.find(tx, actor.circle_id, id=decision.variety_id)
    if variety is None or not may_mean(name, variety):
        raise BoxRefusedError("Choose one of these.", "variety")
    return variety


def _new_spare(variety: Variety, decision: LineDecision, window: Window) -> NewSpare:
    return NewSpare(
        variety.id,
        decision.material,
        decision.raised,
        decision.count,
        window.ready_from,
        window.send_by,
        health_by=window.health_by,
        health_on=window.health_on,
        may_go=decision.may_go,
    )


def _unread(line: UnreadLine) -> BoxLine:
    faults = {
        "no name": "There is no name on this line.",
        "count": f"The number must be from 1 to {MOST_PLANTS_A_LINE}.",
        "too long": f"The name is longer than {LONGEST_NAME} letters.",
    }
    return BoxLine(line.number, line.text, None, faults[line.fault], None, (), doubtful=True)
