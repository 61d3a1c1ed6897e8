"""The box: a spare or a wish a line; what is in doubt is asked about, and all is kept or nothing."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime

from exchange.actions.growing.varieties import add_variety, find_name, may_mean
from exchange.actions.kernel.actor import Actor, note
from exchange.actions.kernel.refusals import RefusedError
from exchange.actions.sharing.box_members import acting_in, leaders_of, members_to_choose
from exchange.actions.sharing.claims import ask_for
from exchange.actions.sharing.spares import NewSpare, add_spare
from exchange.domain.growing.batch import Material, Raised
from exchange.domain.growing.names import LONGEST_NAME, tidied
from exchange.domain.growing.variety import Species, Variety
from exchange.domain.permissions import Permission, Subject
from exchange.domain.sharing.box.entry import (
    MOST_LINES,
    MOST_PLANTS_A_LINE,
    BoxDoubt,
    BoxEntry,
    TooManyLinesError,
    What,
)
from exchange.domain.sharing.box.reading import read_lines
from exchange.records import Tx
from exchange.records.varieties import names_known, variety_meant_by

OF_THE_WHOLE_BOX = frozenset({"ready_from", "send_by", "health_on", "place"})


class BoxRefusedError(RefusedError):
    """The box cannot be read as a whole."""


class LineRefusedError(RefusedError):
    """One line of the box cannot be kept; nor is anything else in the box.

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
    entry : what was understood; its name is the one that was looked up
    fault : sentence for a line nothing could be made of
    variety : the variety of exactly this name, or None
    candidates : varieties that may be meant, to choose from
    doubts : every field the person is asked about
    whose : the member whose line it is, None for one's own or where it is asked
    members : whom it may be of, where the box holds lines of several members
    """

    number: int
    text: str
    entry: BoxEntry
    fault: str
    variety: Variety | None
    candidates: tuple[Variety, ...]
    doubts: frozenset[BoxDoubt]
    whose: int | None = None
    members: tuple[tuple[int, str], ...] = ()


@dataclass(frozen=True, slots=True)
class LineDecision:
    """What the person decided for a line; None in its place leaves the line out.

    Attributes
    ----------
    what : whether it is a spare or a wish
    name : the name, as it was read or as it was put right
    variety_id : an existing variety, or None to add the name as a new one of the species
    choice : of a wish, 1, 2 or 3
    member_id : the member the organiser enters the line for; None for one's own
    """

    count: int
    material: Material
    raised: Raised
    variety_id: int | None
    species: Species
    name: str
    what: What = What.SPARE
    choice: int = 1
    may_go: bool = False
    member_id: int | None = None


@dataclass(frozen=True, slots=True)
class Window:
    """The days and the health check that hold for the whole box."""

    ready_from: date
    send_by: date
    health_by: str = ""
    health_on: date | None = None


@dataclass(frozen=True, slots=True)
class BoxKept:
    """What was kept of a box.

    Attributes
    ----------
    spares, claims : the new ones
    there : wishes that stood already
    """

    spares: tuple[int, ...]
    claims: tuple[int, ...]
    there: int


def read_box(actor: Actor, text: str, names: Sequence[str] = ()) -> tuple[BoxLine, ...]:
    """Read the box and look every name up; nothing is kept yet.

    Parameters
    ----------
    names : one per line, as they were put right; an empty one stands for the name that is read
    """
    actor.must(Permission.KEEP_OWN, Subject(owner=actor.own_household()))
    with actor.books.reading() as tx:
        known = names_known(tx, actor.circle_id)
        led = leaders_of(tx, actor)
    entries = _entries(text, known, tuple(led))
    put_right = tuple(names) if len(names) == len(entries) else ("",) * len(entries)
    lines = (
        _looked_up(known, replace(one, name=name) if name and not one.fault else one)
        for one, name in zip(entries, put_right, strict=True)
    )
    if not any(one.leader for one in entries):
        return tuple(lines)
    members = members_to_choose(led)
    return tuple(
        replace(
            one,
            members=members,
            whose=None
            if BoxDoubt.WHOSE in one.doubts
            else led.get(one.entry.leader, (None, ""))[0],
        )
        for one in lines
    )


def _entries(text: str, known: Sequence[Variety], leaders: Sequence[str]) -> tuple[BoxEntry, ...]:
    try:
        entries = read_lines(text, (one.name for one in known), leaders)
    except TooManyLinesError as many:
        raise BoxRefusedError(
            f"These are {many.lines} lines; list at most {MOST_LINES} at a time.", "lines"
        ) from many
    if not entries:
        raise BoxRefusedError("Write at least one line, such as 3 rooted and a name.", "lines")
    return entries


def _looked_up(known: Sequence[Variety], entry: BoxEntry) -> BoxLine:
    if entry.fault:
        faults = {
            "no name": "There is no name on this line.",
            "count": f"The number must be from 1 to {MOST_PLANTS_A_LINE}.",
            "too long": f"The name is longer than {LONGEST_NAME} letters.",
        }
        fault = faults[entry.fault]
        return BoxLine(entry.number, entry.text, entry, fault, None, (), frozenset())
    found = find_name(known, entry.name, entry.species)
    sure_of_name = found.variety is not None and BoxDoubt.NAME not in entry.doubts
    variety = found.variety if sure_of_name else None
    also = (found.variety,) if found.variety and not sure_of_name else ()
    doubts = entry.doubts if entry.what is not What.OUT else frozenset()
    if variety is None and entry.what is not What.OUT:
        doubts |= {BoxDoubt.NAME}
    others = () if variety else also + found.others + found.near
    return BoxLine(entry.number, entry.text, entry, "", variety, others, doubts)


def list_box(
    actor: Actor,
    text: str,
    decisions: Sequence[LineDecision | None],
    window: Window,
    now: datetime,
) -> BoxKept:
    """Keep every decided line, a spare or a wish, with its new name: all or none.

    Parameters
    ----------
    text : the box as it was read
    decisions : one per line, in order; None leaves the line out

    Raises
    ------
    LineRefusedError
        Naming the line that cannot be kept.
    """
    actor.must(Permission.KEEP_OWN, Subject(owner=actor.own_household()))
    with actor.books.writing() as tx:
        led = tuple(leaders_of(tx, actor))
        entries = _entries(text, names_known(tx, actor.circle_id), led)
        if len(entries) != len(decisions):
            raise BoxRefusedError("The lines have changed; read the box again.", "lines")
        wanted = [
            (entry.number, decision)
            for entry, decision in zip(entries, decisions, strict=True)
            if decision is not None and not entry.fault
        ]
        if not wanted:
            raise BoxRefusedError("Every line is left out; nothing was listed.", "lines")
        spares, claims, there = [], [], 0
        for number, decision in wanted:
            acting = acting_in(tx, actor, decision.member_id)
            kept, new = _keep(tx, acting, number, decision, window, now)
            if decision.what is What.SPARE:
                spares.append(kept)
            elif new:
                claims.append(kept)
            there += not new
        for member_id in dict.fromkeys(one.member_id for _number, one in wanted):
            lines = sum(one.member_id == member_id for _number, one in wanted)
            note(tx, acting_in(tx, actor, member_id), "used the box", f"{lines} lines", now)
    return BoxKept(tuple(spares), tuple(claims), there)


def _keep(
    tx: Tx, actor: Actor, number: int, decision: LineDecision, window: Window, now: datetime
) -> tuple[int, bool]:
    """Keep one line; what it is refused for is said of that line."""
    try:
        variety = _variety(tx, actor, decision)
        if decision.what is What.WISH:
            return ask_for(tx, actor, variety.id, decision.count, decision.choice, now)
        return add_spare(tx, actor, variety, _new_spare(variety, decision, window), now), True
    except RefusedError as refused:
        field = "count" if refused.field == "asked" else refused.field
        whole = field in OF_THE_WHOLE_BOX
        raise LineRefusedError(str(refused), field, 0 if whole else number) from refused


def _variety(tx: Tx, actor: Actor, decision: LineDecision) -> Variety:
    """Give the variety that was chosen, if the name may mean it, or keep the name as a new one."""
    if decision.variety_id is None:
        return add_variety(tx, actor, decision.name, decision.species)
    name = tidied(decision.name)
    names = [one for one in names_known(tx, actor.circle_id) if one.id == decision.variety_id]
    if not any(may_mean(name, one) for one in names):
        raise BoxRefusedError("Choose one of these.", "variety")
    return variety_meant_by(tx, actor.circle_id, names[0].id)


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
