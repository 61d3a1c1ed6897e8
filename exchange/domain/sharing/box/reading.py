"""The whole box: lines read by themselves, then under their headings, then beside each other."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from exchange.domain.growing.batch import Material
from exchange.domain.growing.names import LONGEST_NAME, fold
from exchange.domain.growing.variety import Species
from exchange.domain.sharing.box.entry import (
    LONGEST_LINE,
    MOST_LINES,
    MOST_PLANTS_A_LINE,
    BoxDoubt,
    BoxEntry,
    TooManyLinesError,
    What,
    Why,
)
from exchange.domain.sharing.box.headings import Heading, Over, heading_of
from exchange.domain.sharing.box.layout import TextLine, TextPart, lines_of
from exchange.domain.sharing.box.leaders import led_by, whose, without_choice
from exchange.domain.sharing.box.meaning import entry_of, read_asking
from exchange.domain.sharing.box.names import Names, cover, known_names
from exchange.domain.sharing.box.phrase import read_phrase
from exchange.domain.sharing.box.repeats import beside_each_other
from exchange.domain.sharing.box.rows import row_entry
from exchange.domain.sharing.box.tables import Heads, heads_of, row_of


@dataclass(slots=True)
class _Over:
    """What stands over the lines that come: a heading, the block it began in, the headings of a table."""

    heading: Heading | None = None
    block: int = 0
    rows: int = 0
    heads: Heads | None = None
    leader: str = ""


def read_lines(
    text: str, known: Iterable[str] = (), leaders: Sequence[str] = ()
) -> tuple[BoxEntry, ...]:
    """Read the lines of a box; empty lines are passed over.

    Parameters
    ----------
    known : names of the circle's varieties
    leaders : names of members whose lines the box may hold

    Raises
    ------
    TooManyLinesError : when there are more than ``MOST_LINES``
    """
    lines = lines_of(text)
    if len(lines) > MOST_LINES:
        raise TooManyLinesError(len(lines))
    names = known_names(known)
    own = any(one.part is TextPart.OWN and _like_a_spare(one, names) for one in lines)
    over = _Over()
    found: list[BoxEntry] = []
    for line in lines:
        entry = _read_led(line, names, over, leaders)
        if over.heading and over.heading.backwards:
            found = _said_of_above(found, line, lines, over.heading)
            over.heading = None
        found.append(_of_its_part(entry, line.part, own=own))
    return whose(beside_each_other(tuple(found), lines))


def read_line(number: int, line: str, known: Iterable[str] = ()) -> BoxEntry:
    """Read one line that is not empty, by itself."""
    (entry,) = read_lines(" ".join(line.splitlines()), known) or (
        BoxEntry(number, line, What.OUT, fault="no name"),
    )
    return replace(entry, number=number)


def _like_a_spare(line: TextLine, names: Names) -> bool:
    if len(line.text) > LONGEST_LINE:
        return False
    phrase = read_phrase(cover(line.bare, names))
    return bool(phrase.known or (phrase.numbers and phrase.said_material))


def _read_led(line: TextLine, names: Names, over: _Over, leaders: Sequence[str]) -> BoxEntry:
    """Read a line under the member whose it is."""
    if len(line.text) > LONGEST_LINE:
        return BoxEntry(line.number, line.text, What.OUT, fault="too long")
    name, rest = led_by(line.bare, leaders)
    if name and not rest:
        why = Why.SIGNATURE if line.part is TextPart.SIGNATURE else Why.HEADING
        over.leader, over.heading, over.heads = name, None, None
        return BoxEntry(line.number, line.text, What.OUT, why=why, leader=name)
    choice, rest = without_choice(rest)
    entry = _read(replace(line, bare=rest) if rest else line, names, over)
    if choice and entry.what is What.SPARE:
        entry = replace(
            entry, doubts=entry.doubts | {BoxDoubt.WHAT}, why=entry.why or Why.UNCERTAIN
        )
    return replace(entry, choice=choice, leader=name or over.leader)


def _read(line: TextLine, names: Names, over: _Over) -> BoxEntry:
    blank = BoxEntry(line.number, line.text, What.OUT)
    if line.part is TextPart.MAIL:
        return replace(blank, why=Why.NOTHING_SAID)
    heads = heads_of(line.bare)
    if heads is not None:
        over.heads = heads
        return replace(blank, why=Why.HEADING)
    row = row_of(over.heads, line.bare) if over.heads else None
    if over.heads and row is not None:
        return _bounded(row_entry(blank, row, over.heads, names))
    covered = cover(line.bare, names)
    phrase = read_asking(covered)
    heading = heading_of(line.bare, phrase)
    if heading is not None:
        over.heading, over.block, over.rows, over.heads = heading, line.block, 0, None
        return replace(blank, why=Why.HEADING)
    return _bounded(_under(entry_of(blank, covered, phrase), line, over))


def _under(entry: BoxEntry, line: TextLine, over: _Over) -> BoxEntry:
    """Read an entry under the heading that stands over it; a heading beyond an empty line is asked about."""
    heading = over.heading
    if heading is None or entry.fault:
        return entry
    near = line.block == over.block or (over.rows == 0 and line.block == over.block + 1)
    if near:
        over.block = line.block
        over.rows += 1
    if entry.what is not What.SPARE:
        return entry
    if heading.over is Over.SPARES or not near:
        entry = _with_material(entry, heading.material, heading.species, near=near)
        far = not near and heading.over is not Over.SPARES
        return (
            replace(entry, why=Why.UNCERTAIN, doubts=entry.doubts | {BoxDoubt.WHAT})
            if far
            else entry
        )
    if heading.over is Over.WISHES:
        doubts = entry.doubts - {BoxDoubt.MATERIAL, BoxDoubt.RAISED}
        return replace(
            entry, what=What.WISH, count=entry.count or 1,
            doubts=doubts if entry.count else doubts - {BoxDoubt.COUNT},
        )  # fmt: skip
    if heading.over in {Over.PROMISED, Over.NONE}:
        why = Why.PROMISED if heading.over is Over.PROMISED else Why.NONE_LEFT
        return replace(entry, what=What.OUT, why=why, doubts=frozenset())
    return replace(entry, why=Why.UNCERTAIN, doubts=entry.doubts | {BoxDoubt.WHAT})


def _with_material(
    entry: BoxEntry, material: Material | None, species: Species | None, *, near: bool
) -> BoxEntry:
    if entry.species is None and near:
        entry = replace(entry, species=species)
    if material is None or entry.material is not None or not near:
        return entry
    return replace(entry, material=material, doubts=entry.doubts - {BoxDoubt.MATERIAL})


def _said_of_above(
    found: list[BoxEntry], line: TextLine, lines: tuple[TextLine, ...], heading: Heading
) -> list[BoxEntry]:
    """Ask about the lines a sentence under them speaks of."""
    blocks = {one.number: one.block for one in lines}
    why = Why.PROMISED if heading.over is Over.PROMISED else Why.NONE_LEFT
    return [
        replace(one, why=why, doubts=one.doubts | {BoxDoubt.WHAT})
        if one.what is not What.OUT and line.block - blocks[one.number] <= 1
        else one
        for one in found
    ]


def _of_its_part(entry: BoxEntry, part: TextPart, *, own: bool) -> BoxEntry:
    """Leave quoted lines and signatures out; where nothing else is written, they are asked about."""
    if entry.what is What.OUT or part in {TextPart.OWN, TextPart.MAIL}:
        return entry
    asked = replace(entry, doubts=entry.doubts | {BoxDoubt.WHAT})
    if part is TextPart.SIGNATURE:
        plain = entry.material is not None or (
            BoxDoubt.NAME not in entry.doubts and bool(entry.count)
        )
        if plain:
            return replace(asked, why=Why.SIGNATURE)
        return replace(entry, what=What.OUT, why=Why.SIGNATURE, doubts=frozenset())
    if part is TextPart.FORWARDED:
        return replace(asked, why=Why.QUOTED) if own else entry
    if own:
        return replace(entry, what=What.OUT, why=Why.QUOTED, doubts=frozenset())
    return replace(asked, why=Why.QUOTED)


def _bounded(entry: BoxEntry) -> BoxEntry:
    """Refuse a count or a name that cannot be kept."""
    if entry.what is What.OUT:
        return entry
    if len(entry.name) > LONGEST_NAME:
        return replace(entry, what=What.OUT, doubts=frozenset(), fault="too long")
    if not any(one.isalpha() for one in fold(entry.name)):
        return replace(entry, what=What.OUT, doubts=frozenset(), fault="no name")
    if entry.count is not None and not 1 <= entry.count <= MOST_PLANTS_A_LINE:
        return replace(entry, what=What.OUT, doubts=frozenset(), fault="count")
    return entry
