"""What may still be done to a share-out: nothing once it is confirmed or cancelled, and one runs at a time."""

from exchange.actions.kernel.refusals import RefusedError
from exchange.domain.sharing.states import UNCONFIRMED, ShareOutState
from exchange.records import SHARE_OUTS, Tx
from exchange.records.rows.sharing import ShareOutRow


class AlreadyOpenError(RefusedError):
    """A share-out is running already."""


class AlreadyConfirmedError(RefusedError):
    """A confirmed share-out never changes silently."""


class CancelledError(RefusedError):
    """A cancelled share-out is neither worked out nor confirmed."""


def must_be_open(share_out: ShareOutRow) -> None:
    """Refuse what would change a share-out that is confirmed or cancelled."""
    if share_out.state is ShareOutState.CONFIRMED:
        raise AlreadyConfirmedError("This share-out is confirmed; it does not change any more.")
    if share_out.state is ShareOutState.CANCELLED:
        raise CancelledError("This share-out is cancelled. Open another.")


def must_be_alone(tx: Tx, circle_id: int) -> None:
    """Refuse to open a share-out beside another."""
    if SHARE_OUTS.all(tx, circle_id, state=UNCONFIRMED):
        raise AlreadyOpenError("A share-out is open already; confirm or cancel that one first.")
