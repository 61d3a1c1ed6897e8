"""Why a claim came out as it did: what would have given way, and what would change it, worked out when asked for."""

from datetime import datetime

from exchange.actions.kernel.actor import Actor, note
from exchange.actions.kernel.refusals import RefusedError
from exchange.actions.kernel.tasks import ask
from exchange.actions.sharing.claim_decision import Had, decision_of, keep_had, may_see
from exchange.actions.sharing.share_out_proposal import share_out_of
from exchange.domain.optimise.programme import Watch
from exchange.domain.permissions import Permission
from exchange.domain.sharing.changes import what_would_change
from exchange.domain.sharing.explanation import what_if
from exchange.domain.sharing.instance import case_from
from exchange.records import TASKS, Tx
from exchange.records.rows.running import UNDER_WAY

KIND, KIND_AHEAD = "claim_why", "claim_why_ahead"
"""Kinds of the task: on what was confirmed, and on what is only proposed."""


class NotDecidedError(RefusedError):
    """No share-out has decided on this claim yet."""


def ask_why(actor: Actor, claim_id: int, now: datetime) -> int | None:
    """Ask for what would have been, had the claim been given one plant more.

    Returns
    -------
    the task that works it out, None where that is kept already

    Raises
    ------
    NotDecidedError
        Before any share-out has decided on it.
    """
    with actor.books.writing() as tx:
        may_see(tx, actor, claim_id)
        decision = decision_of(tx, actor, claim_id, ahead=actor.organiser)
        if decision is None:
            raise NotDecidedError("No share-out has decided on this claim yet.")
        if decision.had is not None:
            return None
        note(tx, actor, "asked why a claim came out so", f"claim {claim_id}", now)
        return ask(tx, actor, KIND if decision.answer else KIND_AHEAD, claim_id, now)


def is_under_way(tx: Tx, actor: Actor, claim_id: int) -> bool:
    """Say whether it was asked for and is being worked out."""
    kinds = {KIND, KIND_AHEAD} if actor.organiser else {KIND}
    return bool(TASKS.all(tx, actor.circle_id, kind=kinds, subject_id=claim_id, state=UNDER_WAY))


def explain(actor: Actor, claim_id: int, watch: Watch, *, ahead: bool) -> Had:
    """Work out what would have been, had the claim been given one plant more; once, then it is kept.

    Parameters
    ----------
    ahead : on what is only proposed

    Raises
    ------
    NotDecidedError
        Where no share-out has decided on it, or the proposal is gone.
    """
    actor.must(Permission.RUN_SHARE_OUT)
    with actor.books.reading() as tx:
        decision = decision_of(tx, actor, claim_id, ahead=ahead)
    if decision is None or decision.share_out.working is None:
        raise NotDecidedError("No share-out has decided on this claim yet.")
    if decision.had is not None:
        return decision.had
    case = case_from(decision.share_out.working["case"])
    found = share_out_of(decision.share_out)
    tried = what_would_change(case, found, claim_id, watch)
    had = Had(what_if(case, found, claim_id, watch), tried.found, tried.every)
    with actor.books.writing() as tx:
        keep_had(tx, actor, decision, had)
    return had
