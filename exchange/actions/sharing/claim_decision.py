"""What a share-out decided of one claim: as confirmed, or for the organiser as proposed."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from exchange.actions.kernel.actor import Actor
from exchange.domain.permissions import Permission, Subject
from exchange.domain.sharing.changes import Counterfactual
from exchange.domain.sharing.explanation import WhatIf
from exchange.domain.sharing.reason import ClaimReason
from exchange.domain.sharing.states import ShareOutState
from exchange.records import ANSWERS, CLAIMS, SHARE_OUTS, Tx
from exchange.records.columns import from_plain, to_plain
from exchange.records.rows.sharing import ClaimAnswerRow, ShareOutRow
from exchange.words.sharing.asker import Asker
from exchange.words.sharing.reasons import retold

HAD = "had"


@dataclass(frozen=True, slots=True)
class Had:
    """What would have been, as it was worked out once and kept.

    Attributes
    ----------
    every : whether every change there is to try was tried
    """

    what_if: WhatIf
    changes: tuple[Counterfactual, ...]
    every: bool


@dataclass(frozen=True, slots=True)
class ClaimDecision:
    """What was decided of a claim.

    Attributes
    ----------
    answer : the row it is kept in, None while it is only proposed
    """

    share_out: ShareOutRow
    claim_id: int
    reason: ClaimReason
    sentence: str
    had: Had | None
    answer: ClaimAnswerRow | None


def may_see(tx: Tx, actor: Actor, claim_id: int) -> None:
    """Refuse whoever is neither the claim's household nor the organiser."""
    claim = CLAIMS.get(tx, actor.circle_id, claim_id)
    actor.must(Permission.KEEP_OWN, Subject(owner=claim.household_id))


def decision_of(tx: Tx, actor: Actor, claim_id: int, *, ahead: bool) -> ClaimDecision | None:
    """Give the latest decision on a claim; None before any.

    Parameters
    ----------
    ahead : prefer one that is only proposed to one that was confirmed
    """
    if ahead:
        for share_out in SHARE_OUTS.all(tx, actor.circle_id, state=ShareOutState.WORKED_OUT):
            for one in (share_out.proposal or {}).get("answers", ()):
                if one["claim_id"] == claim_id:
                    kept = (share_out.proposal or {}).get(HAD, {}).get(str(claim_id))
                    return _decision(share_out, claim_id, one["reason"], one["sentence"], kept)
    answers = ANSWERS.all(tx, actor.circle_id, claim_id=claim_id)
    if not answers:
        return None
    last = answers[-1]
    share_out = SHARE_OUTS.get(tx, actor.circle_id, last.share_out_id)
    sentence = str(last.reason.get("sentence", ""))
    kept = last.reason.get(HAD)
    return _decision(share_out, claim_id, last.reason, sentence, kept, last)


def told_of(reason: Mapping[str, Any], sentence: str, name: str) -> str:
    """Give the kept sentence on a claim as the organiser reads it, with its household's name."""
    return retold(sentence, from_plain(ClaimReason, reason), Asker(name)) if sentence else ""


def keep_had(tx: Tx, actor: Actor, decision: ClaimDecision, had: Had) -> None:
    """Keep what would have been beside the decision."""
    plain = {
        "what_if": to_plain(had.what_if),
        "changes": [to_plain(one) for one in had.changes],
        "every": had.every,
    }
    if decision.answer is not None:
        answer = ANSWERS.get(tx, actor.circle_id, decision.answer.id)
        ANSWERS.change(tx, actor.circle_id, answer.id, reason={**answer.reason, HAD: plain})
        return
    share_out = SHARE_OUTS.get(tx, actor.circle_id, decision.share_out.id)
    proposal = share_out.proposal or {}
    if share_out.worked_at != decision.share_out.worked_at:
        return
    kept = {**proposal.get(HAD, {}), str(decision.claim_id): plain}
    SHARE_OUTS.change(tx, actor.circle_id, share_out.id, proposal={**proposal, HAD: kept})


def _decision(
    share_out: ShareOutRow,
    claim_id: int,
    reason: Mapping[str, Any],
    sentence: str,
    kept: Mapping[str, Any] | None,
    answer: ClaimAnswerRow | None = None,
) -> ClaimDecision:
    had = None
    if kept is not None:
        changes = tuple(from_plain(Counterfactual, one) for one in kept["changes"])
        # What was kept before all kinds of change were tried does not say so.
        had = Had(from_plain(WhatIf, kept["what_if"]), changes, kept.get("every", False))
    found = from_plain(ClaimReason, reason)
    return ClaimDecision(share_out, claim_id, found, sentence, had, answer)
