"""What confirming a share-out will do, shown before it is done."""

from dataclasses import dataclass
from datetime import date, datetime

from exchange.actions.kernel.actor import Actor, circle_of, today_in
from exchange.actions.sharing.share_out import has_changed
from exchange.actions.sharing.share_out_letters import LettersToGo, letters_to_go
from exchange.actions.sharing.share_out_proposal import Proposal, nothing_yet
from exchange.actions.sharing.share_out_state import must_be_open
from exchange.domain.permissions import Permission
from exchange.records import CLAIMS, SHARE_OUTS, SPARES, Tx
from exchange.records.rows.sharing import ShareOutRow


@dataclass(frozen=True, slots=True)
class ConfirmPage:
    """What confirming will do.

    Attributes
    ----------
    ready : whether it has been worked out and nothing changed since
    plants : plants that are given [plants]
    senders, receivers : households that send, and that are given some
    claims, met : claims answered, and those met in full [claims]
    """

    share_out: ShareOutRow
    today: date
    ready: bool
    plants: int
    senders: int
    receivers: int
    claims: int
    met: int
    letters: LettersToGo

    @property
    def closed(self) -> bool:
        return self.today >= self.share_out.closes_on


def confirm_page(actor: Actor, share_out_id: int, now: datetime) -> ConfirmPage:
    """Show what confirming will do.

    Raises
    ------
    AlreadyConfirmedError, CancelledError
        When there is nothing to confirm any more.
    """
    actor.must(Permission.RUN_SHARE_OUT)
    with actor.books.reading() as tx:
        share_out = SHARE_OUTS.get(tx, actor.circle_id, share_out_id)
        must_be_open(share_out)
        proposal = share_out.proposal or nothing_yet()
        return ConfirmPage(
            share_out,
            today_in(circle_of(actor, tx), now),
            share_out.working is not None and not has_changed(tx, actor.circle_id, share_out, now),
            sum(one["count"] for one in proposal["allocations"]),
            *_ends(tx, actor.circle_id, proposal),
            len(proposal["answers"]),
            sum(one["standing"] == "met" for one in proposal["answers"]),
            letters_to_go(tx, actor, proposal),
        )


def _ends(tx: Tx, circle_id: int, proposal: Proposal) -> tuple[int, int]:
    """Count the households that send and those that are given plants."""
    spares, claims = SPARES.by_id(tx, circle_id), CLAIMS.by_id(tx, circle_id)
    given = proposal["allocations"]
    senders = {spares[one["spare_id"]].household_id for one in given}
    receivers = {claims[one["claim_id"]].household_id for one in given}
    return len(senders), len(receivers)
