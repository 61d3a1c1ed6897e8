"""Why a claim came out as it did: what would have given way, and what would change it, worked out when asked for."""

from datetime import datetime

from exchange.actions.actor import Actor, note
from exchange.actions.decision import Had, decision_of, keep_had
from exchange.actions.refused import RefusedError
from exchange.actions.share_out_kept import share_out_of
from exchange.domain.sharing.explanation import what_if, what_would_change
from exchange.domain.sharing.instance import case_from
from exchange.words.phrase import _


class NotDecidedError(RefusedError):
    """No share-out has decided on this claim yet."""


def explain(actor: Actor, claim_id: int, now: datetime) -> Had:
    """Give what would have been, had the claim been given one plant more; worked out once and kept.

    Raises
    ------
    NotDecidedError
        Before any share-out has decided on it.
    """
    with actor.books.reading() as tx:
        decision = decision_of(tx, actor, claim_id)
    if decision is None or decision.share_out.working is None:
        raise NotDecidedError(_("No share-out has decided on this claim yet."))
    if decision.had is not None:
        return decision.had
    case = case_from(decision.share_out.working["case"])
    found = share_out_of(decision.share_out)
    had = Had(what_if(case, found, claim_id), what_would_change(case, found, claim_id))
    with actor.books.writing() as tx:
        keep_had(tx, actor, decision, had)
        note(tx, actor, "asked why a claim came out so", f"claim {claim_id}", now)
    return had
