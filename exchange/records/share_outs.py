"""Moving a share-out from one state to the next, once."""

from dataclasses import dataclass
from datetime import datetime
from typing import Any

from sqlalchemy import update

from exchange.domain.sharing.states import UNCONFIRMED, ShareOutState
from exchange.records.repositories import SHARE_OUTS
from exchange.records.repository import touch
from exchange.records.rows.sharing import ShareOutRow
from exchange.records.tables import ShareOutTable
from exchange.records.transaction import Tx


@dataclass(frozen=True, slots=True)
class WorkedOut:
    """The result of working a share-out out, from facts that bore the stamp."""

    proposal: dict[str, Any]
    working: dict[str, Any]
    worked_at: datetime
    stamp: int


def confirm(tx: Tx, circle_id: int, share_out_id: int, now: datetime) -> bool:
    """Mark a worked-out share-out as confirmed; only one of two at once gets True."""
    done = tx._session.execute(
        update(ShareOutTable)
        .where(
            ShareOutTable.id == share_out_id,
            ShareOutTable.circle_id == circle_id,
            ShareOutTable.state == ShareOutState.WORKED_OUT,
        )
        .values(state=ShareOutState.CONFIRMED, confirmed_at=now)
        .returning(ShareOutTable.id)
        .execution_options(synchronize_session="fetch")
    )
    touch(tx, circle_id)
    return done.one_or_none() is not None


def keep_result(tx: Tx, circle_id: int, share_out_id: int, result: WorkedOut) -> bool:
    """Keep what was worked out, unless the share-out has been confirmed or cancelled meanwhile."""
    kept = tx._session.execute(
        update(ShareOutTable)
        .where(
            ShareOutTable.id == share_out_id,
            ShareOutTable.circle_id == circle_id,
            ShareOutTable.state.in_(UNCONFIRMED),
        )
        .values(
            state=ShareOutState.WORKED_OUT,
            proposal=result.proposal,
            working=result.working,
            worked_at=result.worked_at,
            worked_stamp=result.stamp,
        )
        .returning(ShareOutTable.id)
        .execution_options(synchronize_session="fetch")
    )
    return kept.one_or_none() is not None


def last_confirmed(tx: Tx, circle_id: int) -> ShareOutRow | None:
    """Give the share-out that was confirmed last."""
    confirmed = SHARE_OUTS.all(tx, circle_id, state=ShareOutState.CONFIRMED)
    return max(confirmed, key=lambda one: (one.confirmed_at, one.id)) if confirmed else None
