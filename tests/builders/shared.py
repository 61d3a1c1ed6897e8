"""A circle before its share-out: spares and claims by first name, worked out or not."""

from dataclasses import dataclass
from datetime import timedelta

from exchange.actions.growing.varieties import name_variety
from exchange.actions.kernel.actor import Actor, House
from exchange.actions.sharing.claims import NewClaim, claim
from exchange.actions.sharing.share_out import (
    NewShareOut,
    confirm_share_out,
    open_share_out,
    work_out_share_out,
)
from exchange.actions.sharing.spares import list_spare
from exchange.domain.growing.variety import Species
from exchange.domain.optimise.programme import never_stop
from exchange.domain.sharing.states import STANDING
from exchange.records import ALLOCATIONS, CLAIMS, SHARE_OUTS, SPARES, circles
from exchange.records.rows.sharing import ShareOutRow
from tests.app_fixtures import NOW, Ring, ring
from tests.builders.season import a_spare

EVERYBODY = ("Winnie", "Cuthbert", "Effie", "Odo")


@dataclass
class Sharing:
    """A circle that shares out."""

    ring: Ring
    house: House
    share_out_id: int = 0

    @property
    def circle_id(self) -> int:
        return self.ring.circle_id

    @property
    def organiser(self) -> Actor:
        return self.ring.actor("Winnie")

    def name(self, variety: str = "Chapel Lantern") -> int:
        return name_variety(self.organiser, variety, Species.DAHLIA, NOW).id

    def offer(self, who: str, variety_id: int, count: int = 1, **changes) -> int:
        return list_spare(self.actor(who), a_spare(variety_id, count, NOW, **changes), NOW)

    def ask(self, who: str, variety_id: int, asked: int = 1, **changes) -> int:
        return claim(self.actor(who), NewClaim(variety_id, asked, **changes), NOW)

    def actor(self, who: str) -> Actor:
        if self.ring[who].account_id is None:
            member = self.ring[who]
            return self.organiser.for_member(member.id, member.household_id)
        return self.ring.actor(who)

    def open(self, draw_number: str = "4711") -> int:
        self.share_out_id = open_share_out(
            self.organiser, NewShareOut("Spring", NOW.date(), draw_number), NOW
        )
        return self.share_out_id

    def work_out(self) -> None:
        work_out_share_out(self.organiser, self.share_out_id, never_stop, NOW)

    def confirm(self) -> None:
        confirm_share_out(self.organiser, self.share_out_id, NOW)

    def all_of_it(self) -> None:
        self.open()
        self.work_out()
        self.confirm()

    def row(self) -> ShareOutRow:
        with self.house.books.reading() as tx:
            return SHARE_OUTS.get(tx, self.circle_id, self.share_out_id)

    def given(self, **where) -> list:
        with self.house.books.reading() as tx:
            return list(ALLOCATIONS.all(tx, self.circle_id, **where))

    def standing(self) -> dict[int, int]:
        found: dict[int, int] = {}
        for one in self.given(state=STANDING):
            found[one.claim_id] = found.get(one.claim_id, 0) + one.count
        return found

    def claim_row(self, claim_id: int):
        with self.house.books.reading() as tx:
            return CLAIMS.get(tx, self.circle_id, claim_id)

    def spare_row(self, spare_id: int):
        with self.house.books.reading() as tx:
            return SPARES.get(tx, self.circle_id, spare_id)

    def about(self, how_many: int) -> None:
        with self.house.books.writing() as tx:
            circles.change(tx, self.circle_id, about_how_many=how_many)


def a_sharing(house: House, members=EVERYBODY) -> Sharing:
    made = Sharing(ring(house, members=members, now=NOW - timedelta(days=30)), house)
    made.about(40)
    return made
