"""What the page of left-overs shows."""

from dataclasses import dataclass
from datetime import date, datetime

from exchange.actions.kernel.actor import Actor, circle_of, today_in
from exchange.actions.people.labels import household_labels
from exchange.actions.sharing.left_overs import left_over_spares, open_to_all
from exchange.domain.growing.variety import Variety
from exchange.domain.permissions import Permission
from exchange.records import VARIETIES
from exchange.records.rows.growing import SpareRow
from exchange.words.growing import plants


@dataclass(frozen=True, slots=True)
class LeftOverLine:
    """One left-over."""

    spare: SpareRow
    variety: Variety
    sent_as: str
    left: int
    holder: str
    mine: bool


@dataclass(frozen=True, slots=True)
class LeftOversPage:
    """What is left over, and whether it is open to whoever comes first."""

    lines: tuple[LeftOverLine, ...]
    is_open: bool
    today: date


def left_overs_page(actor: Actor, now: datetime) -> LeftOversPage:
    """Show what the last share-out left."""
    actor.must(Permission.SEE_CIRCLE)
    with actor.books.reading() as tx:
        varieties = VARIETIES.by_id(tx, actor.circle_id)
        labels = household_labels(tx, actor.circle_id)
        lines = [
            LeftOverLine(
                one,
                varieties[one.variety_id],
                plants.sent_as(one.material, one.raised, one.count - one.allocated),
                one.count - one.allocated,
                labels.get(one.household_id, ""),
                one.household_id == actor.household_id,
            )
            for one in left_over_spares(tx, actor, now)
        ]
        is_open = open_to_all(tx, actor.circle_id) is not None
        today = today_in(circle_of(actor, tx), now)
    lines.sort(key=lambda one: (one.variety.name, one.spare.id))
    return LeftOversPage(tuple(lines), is_open, today)
