"""Rows of a spreadsheet made what they say, by the same steps as if each was typed in."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, datetime

from exchange.actions.circle.spreadsheet_facts import town_of
from exchange.actions.growing.batches import NewBatch, add_batch
from exchange.actions.growing.varieties import add_variety
from exchange.actions.kernel.actor import Actor, circle_of, note, today_in
from exchange.actions.kernel.refusals import RefusedError
from exchange.actions.people.members import NewMember, keep_member
from exchange.actions.sharing.box_members import acting_in
from exchange.actions.sharing.claims import ask_for
from exchange.actions.sharing.spares import NewSpare, add_spare
from exchange.domain.growing.batch import Material, Raised
from exchange.domain.growing.names import fold
from exchange.domain.growing.variety import Keeps, Species, Variety
from exchange.domain.spreadsheet.choices import NEW, RowKind
from exchange.domain.spreadsheet.people import IN_FILE
from exchange.domain.spreadsheet.row import RowRead
from exchange.records import BATCHES, HOUSEHOLDS, VARIETIES, Tx

FIRST = (RowKind.MEMBERS, RowKind.VARIETIES, RowKind.STOCK, RowKind.SPARES, RowKind.CLAIMS)
"""In which order rows go in: each kind after those it may speak of."""


class SheetRowRefusedError(RefusedError):
    """One row cannot be kept; nor is any other.

    Attributes
    ----------
    key : of the row
    """

    def __init__(self, row: RowRead, refused: RefusedError) -> None:
        super().__init__(
            f"Row {row.number} of “{row.sheet}” cannot go in: {refused} Nothing was brought in."
        )
        self.key = row.key


@dataclass(slots=True)
class Recorder:
    """Keeps rows within one act.

    Attributes
    ----------
    may_go : rows of which it was said that a last plant may go
    """

    tx: Tx
    actor: Actor
    now: datetime
    may_go: frozenset[str] = frozenset()
    _counted: dict[str, str] = field(default_factory=dict)
    _batches: dict[int, int] | None = None
    _members: dict[str, Actor] = field(default_factory=dict)
    _varieties: dict[str, Variety] = field(default_factory=dict)

    def keep(self, rows: Sequence[RowRead]) -> None:
        """Keep all rows, or none.

        Raises
        ------
        SheetRowRefusedError
            Naming the first row that cannot be kept.
        """
        steps: Mapping[RowKind, Callable[[RowRead], object]] = {
            RowKind.MEMBERS: self._member,
            RowKind.VARIETIES: self._named,
            RowKind.STOCK: self._stock,
            RowKind.SPARES: self._spare,
            RowKind.CLAIMS: self._claim,
        }
        for row in sorted(rows, key=lambda one: FIRST.index(one.kind.of_a_row)):
            try:
                steps[row.kind.of_a_row](row)
            except RefusedError as refused:
                raise SheetRowRefusedError(row, refused) from refused
        for acting in self._members.values():
            note(self.tx, acting, "read a spreadsheet in", "rows of a file", self.now)

    def counted_again(self) -> dict[str, str]:
        """Give batches that were there, as they were counted before and now [id -> "2/5"]."""
        return self._counted

    def _member(self, row: RowRead) -> None:
        said = row.said
        key = said.get("town_key", "")
        town = town_of(said["town"], key) if key else None
        member = keep_member(
            self.tx,
            self.actor,
            NewMember(said["first_name"], said["surname"], said["email"], said["telephone"], town=town),
            self.now,
        )  # fmt: skip
        today = today_in(circle_of(self.actor, self.tx), self.now)
        HOUSEHOLDS.change(self.tx, self.actor.circle_id, member.household_id, joined_on=today)
        note(self.tx, self.actor, "added a member", member.full_name, self.now)
        acting = self.actor.for_member(member.id, member.household_id)
        self._members[f"{IN_FILE}{fold(said['name'])}"] = acting

    def _named(self, row: RowRead) -> None:
        variety = self._variety(row)
        keeps = row.said.get("keeps")
        if keeps and Keeps(keeps) is not variety.keeps:
            VARIETIES.change(self.tx, self.actor.circle_id, variety.id, keeps=Keeps(keeps))

    def _stock(self, row: RowRead) -> None:
        variety, acting = self._variety(row), self._acting(row)
        new = NewBatch(
            variety.id,
            int(row.said["count"]),
            material=Material(row.said["material"]),
            raised=Raised(row.said["raised"]),
        )
        if self._batches is None:
            there = BATCHES.all(self.tx, self.actor.circle_id)
            self._batches = {one.id: one.plants for one in there}
        batch_id = add_batch(self.tx, acting, new, self.now)
        if batch_id in self._batches:
            self._counted[str(batch_id)] = f"{self._batches[batch_id]}/{new.plants}"

    def _spare(self, row: RowRead) -> None:
        variety, acting, said = self._variety(row), self._acting(row), row.said
        new = NewSpare(
            variety.id,
            Material(said["material"]),
            Raised(said["raised"]),
            int(said["count"]),
            date.fromisoformat(said["ready_from"]),
            date.fromisoformat(said["send_by"]),
            note=said.get("note", ""),
            may_go=row.key in self.may_go,
        )
        add_spare(self.tx, acting, variety, new, self.now)

    def _claim(self, row: RowRead) -> None:
        variety, acting = self._variety(row), self._acting(row)
        asked, choice = int(row.said["count"]), int(row.said["choice"])
        ask_for(self.tx, acting, variety.id, asked, choice, self.now)

    def _variety(self, row: RowRead) -> Variety:
        meant = row.said["variety"]
        key = f"{meant} {fold(row.said['name'])}" if meant.startswith(NEW) else meant
        if key not in self._varieties:
            if meant.startswith(NEW):
                species = Species(meant.removeprefix(f"{NEW}:"))
                found: Variety = add_variety(self.tx, self.actor, row.said["name"], species)
            else:
                found = VARIETIES.get(self.tx, self.actor.circle_id, int(meant))
            self._varieties[key] = found
        return self._varieties[key]

    def _acting(self, row: RowRead) -> Actor:
        """Give the actor acting for the member whose row it is."""
        whose = row.said["whose"]
        if whose not in self._members:
            if not whose.isdecimal():
                raise RefusedError("The member of this row is not in the circle yet.")
            own = int(whose) == self.actor.member_id
            self._members[whose] = self.actor if own else acting_in(self.tx, self.actor, int(whose))
        return self._members[whose]
