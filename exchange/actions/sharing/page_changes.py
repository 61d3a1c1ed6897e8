"""What has changed since a share-out was confirmed: each change with its day and reason."""

from dataclasses import dataclass
from datetime import date, datetime
from typing import Unpack

from exchange.actions.kernel.actor import today_in
from exchange.domain.growing.variety import Variety
from exchange.domain.sharing.states import STANDING
from exchange.records import ALLOCATIONS, SHARE_OUTS, SPARES, VARIETIES, Tx
from exchange.records.rows.circle import CircleRow
from exchange.records.rows.sharing import AllocationRow, AllocationWhere, ShareOutRow
from exchange.words.sharing.share_out_after import change_words


@dataclass(frozen=True, slots=True)
class LaterChange:
    """One change after confirming.

    Attributes
    ----------
    what : the reason, naming nobody
    """

    at: datetime
    day: date
    variety: Variety
    spare_id: int
    claim_id: int
    count: int
    what: str


def later_changes(
    tx: Tx, circle: CircleRow, **where: Unpack[AllocationWhere]
) -> tuple[LaterChange, ...]:
    """Give what changed after confirming, in order of time; `where` narrows the allocations."""
    share_outs = SHARE_OUTS.by_id(tx, circle.id)
    found = []
    for one in ALLOCATIONS.all(tx, circle.id, **where):
        share_out = share_outs.get(one.share_out_id or 0)
        if share_out is not None and share_out.confirmed_at is not None:
            found += _changes(tx, circle, one, share_out)
    return tuple(sorted(found, key=lambda one: (one.at, one.claim_id)))


def _changes(
    tx: Tx, circle: CircleRow, one: AllocationRow, share_out: ShareOutRow
) -> list[LaterChange]:
    found = []
    left_overs = (share_out.proposal or {}).get("left_overs", ())
    decided = {
        (given["spare_id"], given["claim_id"])
        for given in (share_out.proposal or {}).get("allocations", ())
    }
    variety_id = SPARES.get(tx, circle.id, one.spare_id).variety_id
    variety = VARIETIES.get(tx, circle.id, variety_id)

    def change(at: datetime, what: str) -> LaterChange:
        day, said = today_in(circle, at), change_words(what)
        return LaterChange(at, day, variety, one.spare_id, one.claim_id, one.count, said)

    pair = (one.spare_id, one.claim_id)
    if pair not in decided or one.made_at > (share_out.confirmed_at or one.made_at):
        kind = "left_over" if one.id in left_overs else "reserve"
        found.append(change(one.made_at, kind))
    if one.state not in STANDING and one.answered_at is not None:
        found.append(change(one.answered_at, one.state))
    return found
