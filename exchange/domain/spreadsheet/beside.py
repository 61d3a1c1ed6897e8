"""Rows beside each other and beside what stands: written twice, gone in before, waiting for one another."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import replace

from exchange.domain.growing.batch import Material
from exchange.domain.growing.last_plant import PlantsKept, last_plant
from exchange.domain.growing.names import fold
from exchange.domain.spreadsheet.choices import FileChoices, RowKind
from exchange.domain.spreadsheet.entry import closed
from exchange.domain.spreadsheet.known import KnownCircle
from exchange.domain.spreadsheet.people import IN_FILE, FilePeople
from exchange.domain.spreadsheet.row import RowDoubt, RowRead, RowState, RowWhy

_ONCE = frozenset({RowKind.MEMBERS, RowKind.VARIETIES, RowKind.CLAIMS})
"""Kinds of row that say no more when they are written twice."""

_LEFT = frozenset({RowState.OUT, RowState.THERE})


def beside_each_other(
    rows: Sequence[RowRead], choices: FileChoices, known: KnownCircle, people: FilePeople
) -> tuple[RowRead, ...]:
    """Compare the rows of a file with each other and with what the circle has."""
    told = {key for key, answers in choices.rows.items() if answers.get("what") == "take"}
    may_go = {key for key, answers in choices.rows.items() if answers.get("may_go")}
    found = _repeated(list(rows), told)
    found = [_standing(one, known, people, key_told=one.key in told) for one in found]
    found = [_in_time(one, known) for one in found]
    found = [_last(one, known, people, may_go=one.key in may_go) for one in found]
    orders: Counter[tuple[str, str]] = Counter()
    ended = []
    for one in found:
        same = (one.kind.of_a_row.value, one.text)
        row = closed(one, orders[same])
        orders[same] += 1
        gone_in = row.sha in known.earlier and row.state is not RowState.OUT
        ended.append(replace(row, state=RowState.THERE, why=RowWhy.EARLIER, doubts=frozenset()) if gone_in else row)  # fmt: skip
    return _waiting(ended)


def _same_thing(row: RowRead) -> tuple[str, ...] | None:
    """Give what two rows that say the same agree in; None for a row that is not settled enough."""
    said = row.said
    if row.state in _LEFT or row.state is RowState.REFUSED or not said:
        return None
    if row.kind is RowKind.MEMBERS:
        return ("member", fold(said.get("email", "")) or fold(said["name"]))
    which = said.get("variety", "")
    which = which if which.isdecimal() else f"{which} {fold(said.get('name', ''))}"
    if row.kind is RowKind.VARIETIES:
        return ("variety", which)
    whose = said.get("whose") or fold(said.get("person", ""))
    if row.kind.of_a_row is RowKind.CLAIMS:
        return ("claim", whose, which)
    return (row.kind.of_a_row.value, whose, which, said.get("material", ""), said.get("raised", ""))


def _repeated(rows: list[RowRead], told: set[str]) -> list[RowRead]:
    """Leave out what is written twice word for word in one sheet, and ask about what is nearly so."""
    first: dict[tuple[str, ...], int] = {}
    for at, row in enumerate(rows):
        same = _same_thing(row)
        if same is None:
            continue
        if same not in first:
            first[same] = at
            continue
        if row.kind in _ONCE and rows[first[same]].text == row.text and row.key not in told:
            rows[at] = replace(row, state=RowState.OUT, why=RowWhy.REPEATED, doubts=frozenset())
            continue
        for place in (first[same], at):
            one = rows[place]
            if one.key not in told and one.state is RowState.READY:
                rows[place] = replace(one, doubts=one.doubts | {RowDoubt.WHAT}, why=RowWhy.REPEATED)
    return rows


def _standing(row: RowRead, known: KnownCircle, people: FilePeople, *, key_told: bool) -> RowRead:
    """Know again what the circle has already."""
    variety, household = row.said.get("variety", ""), people.household(row.said.get("whose", ""))
    if row.state is not RowState.READY or not variety.isdecimal() or not household or key_told:
        return row
    kind = row.kind.of_a_row
    if kind is RowKind.CLAIMS and (household, int(variety)) in known.claims:
        return replace(row, state=RowState.THERE, why=RowWhy.STANDS, doubts=frozenset())
    material = row.said.get("material")
    if material is None or "count" not in row.said or kind not in {RowKind.SPARES, RowKind.STOCK}:
        return row
    there = known.spares if kind is RowKind.SPARES else known.stock
    plants = there.get((household, int(variety), Material(material)))
    if plants is None:
        return row
    if kind is RowKind.STOCK and plants == int(row.said["count"]):
        return replace(row, state=RowState.THERE, why=RowWhy.STANDS, doubts=frozenset())
    return replace(row, doubts=row.doubts | {RowDoubt.WHAT}, why=RowWhy.LIKE_ANOTHER)


def _in_time(row: RowRead, known: KnownCircle) -> RowRead:
    """Refuse days of a spare that cannot be, as the form of one spare does."""
    first, last = row.said.get("ready_from", ""), row.said.get("send_by", "")
    if row.state is not RowState.READY or not (first and last):
        return row
    if last < first or last < known.today.isoformat():
        return replace(row, state=RowState.REFUSED, why=RowWhy.WINDOW)
    return row


def _last(row: RowRead, known: KnownCircle, people: FilePeople, *, may_go: bool) -> RowRead:
    """Ask before a last plant is listed, as whoever lists it by hand is asked."""
    if row.kind.of_a_row is not RowKind.SPARES or row.state is not RowState.READY or may_go:
        return row
    variety, material = row.said.get("variety", ""), row.said.get("material")
    if material is None or "count" not in row.said or not variety:
        return row
    household = people.household(row.said.get("whose", ""))
    key = (household, int(variety) if variety.isdecimal() else 0)
    kept = known.kept.get(key, PlantsKept(0, known.living.get(key[1], 0)))
    if last_plant(kept, int(row.said["count"]), Material(material)) is None:
        return row
    return replace(row, doubts=row.doubts | {RowDoubt.MAY_GO})


def _waiting(rows: Sequence[RowRead]) -> tuple[RowRead, ...]:
    """Let rows wait for the row of the member they are of."""
    members = {
        f"{IN_FILE}{fold(one.said['name'])}": one
        for one in rows
        if one.kind is RowKind.MEMBERS and "name" in one.said and one.state is not RowState.OUT
    }
    return tuple(_waits(one, members.get(one.said.get("whose", ""))) for one in rows)


def _waits(row: RowRead, member: RowRead | None) -> RowRead:
    if row.state is not RowState.READY or not row.said.get("whose", "").startswith(IN_FILE):
        return row
    if member is None or member.state is not RowState.READY:
        return replace(row, state=RowState.ASKED, why=RowWhy.MEMBER_FIRST)
    if not member.said.get("town_key"):
        return replace(row, state=RowState.REFUSED, why=RowWhy.NO_PLACE)
    return row
