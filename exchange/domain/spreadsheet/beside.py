"""Rows beside each other and beside what stands: written twice, gone in before, waiting for one another."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import replace

from exchange.domain.growing.batch import Material
from exchange.domain.growing.last_plant import PlantsKept, last_plant
from exchange.domain.growing.names import fold
from exchange.domain.spreadsheet.choices import Choices, Kind
from exchange.domain.spreadsheet.entry import closed
from exchange.domain.spreadsheet.known import Known
from exchange.domain.spreadsheet.people import IN_FILE, People
from exchange.domain.spreadsheet.row import Doubt, RowRead, State, Why

_LEFT = frozenset({State.OUT, State.THERE})


def beside_each_other(
    rows: Sequence[RowRead], choices: Choices, known: Known, people: People
) -> tuple[RowRead, ...]:
    """Compare the rows of a file with each other and with what the circle has."""
    told = {key for key, answers in choices.rows.items() if answers.get("what") == "take"}
    may_go = {key for key, answers in choices.rows.items() if answers.get("may_go")}
    found = _repeated(list(rows), told)
    found = [_standing(one, known, people, key_told=one.key in told) for one in found]
    found = [_last(one, known, people, may_go=one.key in may_go) for one in found]
    orders: Counter[tuple[str, str]] = Counter()
    ended = []
    for one in found:
        same = (one.kind.of_a_row.value, one.text)
        row = closed(one, orders[same])
        orders[same] += 1
        gone_in = row.sha in known.earlier and row.state is not State.OUT
        ended.append(replace(row, state=State.THERE, why=Why.EARLIER, doubts=frozenset()) if gone_in else row)  # fmt: skip
    return _waiting(ended)


def _same_thing(row: RowRead) -> tuple[str, ...] | None:
    """Give what two rows that say the same agree in; None for a row that is not settled enough."""
    said = row.said
    if row.state in _LEFT or row.state is State.REFUSED or not said:
        return None
    if row.kind is Kind.MEMBERS:
        return ("member", fold(said.get("email", "")) or fold(said["name"]))
    which = said.get("variety", "")
    which = which if which.isdecimal() else f"{which} {fold(said.get('name', ''))}"
    if row.kind is Kind.VARIETIES:
        return ("variety", which)
    whose = said.get("whose") or fold(said.get("person", ""))
    if row.kind.of_a_row is Kind.CLAIMS:
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
        for place in (first[same], at):
            one = rows[place]
            if one.key not in told and one.state is State.READY:
                rows[place] = replace(one, doubts=one.doubts | {Doubt.WHAT}, why=Why.REPEATED)
    return rows


def _standing(row: RowRead, known: Known, people: People, *, key_told: bool) -> RowRead:
    """Know again what the circle has already."""
    variety, household = row.said.get("variety", ""), people.household(row.said.get("whose", ""))
    if row.state is not State.READY or not variety.isdecimal() or not household or key_told:
        return row
    kind = row.kind.of_a_row
    if kind is Kind.CLAIMS and (household, int(variety)) in known.claims:
        return replace(row, state=State.THERE, why=Why.STANDS, doubts=frozenset())
    material = row.said.get("material")
    if material is None or "count" not in row.said or kind not in {Kind.SPARES, Kind.STOCK}:
        return row
    there = known.spares if kind is Kind.SPARES else known.stock
    plants = there.get((household, int(variety), Material(material)))
    if plants is None:
        return row
    if kind is Kind.STOCK and plants == int(row.said["count"]):
        return replace(row, state=State.THERE, why=Why.STANDS, doubts=frozenset())
    return replace(row, doubts=row.doubts | {Doubt.WHAT}, why=Why.LIKE_ANOTHER)


def _last(row: RowRead, known: Known, people: People, *, may_go: bool) -> RowRead:
    """Ask before a last plant is listed, as whoever lists it by hand is asked."""
    if row.kind.of_a_row is not Kind.SPARES or row.state is not State.READY or may_go:
        return row
    variety, material = row.said.get("variety", ""), row.said.get("material")
    if material is None or "count" not in row.said or not variety:
        return row
    household = people.household(row.said.get("whose", ""))
    key = (household, int(variety) if variety.isdecimal() else 0)
    kept = known.kept.get(key, PlantsKept(0, known.living.get(key[1], 0)))
    if last_plant(kept, int(row.said["count"]), Material(material)) is None:
        return row
    return replace(row, doubts=row.doubts | {Doubt.MAY_GO})


def _waiting(rows: Sequence[RowRead]) -> tuple[RowRead, ...]:
    """Let rows wait for the row of the member they are of."""
    members = {
        f"{IN_FILE}{fold(one.said['name'])}": one
        for one in rows
        if one.kind is Kind.MEMBERS and "name" in one.said and one.state is not State.OUT
    }
    return tuple(_waits(one, members.get(one.said.get("whose", ""))) for one in rows)


def _waits(row: RowRead, member: RowRead | None) -> RowRead:
    if row.state is not State.READY or not row.said.get("whose", "").startswith(IN_FILE):
        return row
    if member is None or member.state is not State.READY:
        return replace(row, state=State.ASKED, why=Why.MEMBER_FIRST)
    if not member.said.get("town_key"):
        return replace(row, state=State.REFUSED, why=Why.NO_PLACE)
    return row
