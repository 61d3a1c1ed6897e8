"""Rows of a spreadsheet made what they say, by the rules that hold for what is typed in, and kept at once."""

from collections import Counter
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date, datetime

from exchange.actions.circle.spreadsheet_facts import open_claims, town_of
from exchange.actions.circle.spreadsheet_stock import StockAsRead
from exchange.actions.growing.batches import NewBatch
from exchange.actions.growing.varieties import add_variety
from exchange.actions.kernel.actor import Actor, circle_of, note, today_in
from exchange.actions.kernel.refusals import RefusedError
from exchange.actions.people.members import NewMember, keep_member
from exchange.actions.sharing.box_members import acting_in
from exchange.actions.sharing.claims import NewClaim, check_claim, claim_row
from exchange.actions.sharing.last_plants import Listing, let_last_go
from exchange.actions.sharing.spares import NewSpare, check_spare, offered_as, spare_row
from exchange.domain.growing.batch import Material, Raised
from exchange.domain.growing.names import fold
from exchange.domain.growing.variety import Keeps, Species, Variety
from exchange.domain.spreadsheet.choices import NEW, RowKind
from exchange.domain.spreadsheet.people import IN_FILE
from exchange.domain.spreadsheet.row import RowRead
from exchange.records import CLAIMS, HOUSEHOLDS, SPARES, VARIETIES, Tx
from exchange.records.rows.growing import ClaimRow, SpareRow
from exchange.words.circle.spreadsheet import lots

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
    may_go: frozenset[str]
    today: date
    _stock: StockAsRead | None = None
    _claimed: set[tuple[int, int]] = field(default_factory=set)
    _spares: list[SpareRow] = field(default_factory=list)
    _claims: list[ClaimRow] = field(default_factory=list)
    _members: dict[str, Actor] = field(default_factory=dict)
    _varieties: dict[str, Variety] = field(default_factory=dict)
    _done: dict[str, Counter[RowKind]] = field(default_factory=dict)

    def keep(self, rows: Sequence[RowRead]) -> dict[str, str]:
        """Keep all rows, or none; gives batches that were there, as they were counted before and now.

        Raises
        ------
        SheetRowRefusedError
            Naming the first row that cannot be kept.
        """
        for kind in FIRST:
            self._keep_those([one for one in rows if one.kind.of_a_row is kind], kind)
        made = self._at_hand().keep()
        spares = [replace(one, batch_id=made.get(one.batch_id or 0, one.batch_id)) for one in self._spares]  # fmt: skip
        SPARES.add_all(self.tx, self.actor.circle_id, spares)
        CLAIMS.add_all(self.tx, self.actor.circle_id, self._claims)
        for whose, done in self._done.items():
            counts = [(kind, done[kind]) for kind in FIRST if done[kind]]
            note(self.tx, self._members[whose], "read a spreadsheet in", lots(counts), self.now)
        return self._at_hand().counted

    def _keep_those(self, rows: Sequence[RowRead], kind: RowKind) -> None:
        steps: Mapping[RowKind, Callable[[RowRead], object]] = {
            RowKind.MEMBERS: self._member,
            RowKind.VARIETIES: self._named,
            RowKind.STOCK: self._batch,
            RowKind.SPARES: self._spare,
            RowKind.CLAIMS: self._claim,
        }
        for row in rows:
            try:
                steps[kind](row)
            except RefusedError as refused:
                raise SheetRowRefusedError(row, refused) from refused

    def _at_hand(self) -> StockAsRead:
        """Give what stands in the circle, with the members of the file in it."""
        if self._stock is None:
            self._stock = StockAsRead(self.tx, self.actor.circle_id, self.today)
            self._claimed |= open_claims(self.tx, self.actor.circle_id)
        return self._stock

    def _member(self, row: RowRead) -> None:
        said = row.said
        key = said.get("town_key", "")
        new = NewMember(
            said["first_name"],
            said["surname"],
            said["email"],
            said["telephone"],
            town=town_of(said["town"], key) if key else None,
        )
        member = keep_member(self.tx, self.actor, new, self.now)
        HOUSEHOLDS.change(self.tx, self.actor.circle_id, member.household_id, joined_on=self.today)
        note(self.tx, self.actor, "added a member", member.full_name, self.now)
        acting = self.actor.for_member(member.id, member.household_id)
        self._members[f"{IN_FILE}{fold(said['name'])}"] = acting

    def _named(self, row: RowRead) -> None:
        variety = self._variety(row)
        keeps = row.said.get("keeps")
        if keeps and Keeps(keeps) is not variety.keeps:
            VARIETIES.change(self.tx, self.actor.circle_id, variety.id, keeps=Keeps(keeps))

    def _batch(self, row: RowRead) -> None:
        variety, acting = self._variety(row), self._acting(row)
        material, raised = Material(row.said["material"]), Raised(row.said["raised"])
        new = NewBatch(variety.id, int(row.said["count"]), material=material, raised=raised)
        self._at_hand().add(acting, new)

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
        check_spare(new, self.today)
        stock, household = self._at_hand(), acting.own_household()
        listing = Listing(variety, new.material, new.count, household, new.may_go)
        let_last_go(self.tx, acting, listing, stock.kept(household, variety.id), self.now)
        place_id = stock.place(household)
        batch_id = stock.behind(acting, variety.id, offered_as(new), place_id)
        self._spares.append(spare_row(acting, variety, new, (place_id, batch_id), self.now))

    def _claim(self, row: RowRead) -> None:
        variety, acting = self._variety(row), self._acting(row)
        new = NewClaim(variety.id, int(row.said["count"]), int(row.said["choice"]))
        check_claim(new, self.today)
        place_id = self._at_hand().place(acting.own_household())
        key = (acting.own_household(), variety.id)
        if key not in self._claimed:
            self._claimed.add(key)
            self._claims.append(claim_row(acting, new, place_id, self.now))

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
        self._done.setdefault(whose, Counter())[row.kind.of_a_row] += 1
        return self._members[whose]


def recorder_for(tx: Tx, actor: Actor, may_go: frozenset[str], now: datetime) -> Recorder:
    """Give a recorder for one act."""
    return Recorder(tx, actor, now, may_go, today_in(circle_of(actor, tx), now))
