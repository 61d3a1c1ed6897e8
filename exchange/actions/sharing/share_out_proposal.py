"""What is kept beside a share-out's rows: the proposal under review, the organiser's choices."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from enum import StrEnum
from typing import Any

from exchange.domain.sharing.case import Allocation, ShareOutCase
from exchange.domain.sharing.outcome import NAMES, RuleProof, ShareOut, Status
from exchange.domain.sharing.quantities import remarks
from exchange.domain.sharing.reason import ClaimReason
from exchange.domain.sharing.states import ShareOutState
from exchange.records.columns import from_plain, to_plain
from exchange.records.rows.sharing import ShareOutRow
from exchange.words.sharing.reasons import reason_sentence

Proposal = dict[str, Any]
THIN = "thin"
"""Under which a proposal keeps the parcels of one plant that cost most; older ones have none."""


class ChoiceKind(StrEnum):
    """What the organiser chose for two that could meet."""

    PIN = "pin"
    FORBID = "forbid"


@dataclass(frozen=True, slots=True)
class Choice:
    """What the organiser settled before the rest was worked out.

    Attributes
    ----------
    count : plants that are to go, 0 for two kept apart [plants]
    reason : in the organiser's words; kept with the share-out
    """

    kind: ChoiceKind
    spare_id: int
    claim_id: int
    count: int
    reason: str
    made_on: date

    @property
    def pair(self) -> tuple[int, int]:
        return self.spare_id, self.claim_id


def choices_of(share_out: ShareOutRow) -> tuple[Choice, ...]:
    """Give the organiser's choices."""
    return tuple(from_plain(Choice, one) for one in (share_out.proposal or {}).get("choices", ()))


def pins_of(share_out: ShareOutRow) -> tuple[Allocation, ...]:
    """Give what the organiser wants given; none once confirmed: the allocations stand then."""
    if share_out.state == ShareOutState.CONFIRMED:
        return ()
    return tuple(
        Allocation(one.spare_id, one.claim_id, one.count)
        for one in choices_of(share_out)
        if one.kind is ChoiceKind.PIN
    )


def forbids_of(share_out: ShareOutRow) -> tuple[tuple[int, int], ...]:
    """Give the pairs the organiser keeps apart, which holds for the reserve too."""
    return tuple(one.pair for one in choices_of(share_out) if one.kind is ChoiceKind.FORBID)


def with_choices(proposal: Proposal | None, choices: tuple[Choice, ...]) -> Proposal:
    """Give the proposal with these choices beside it."""
    return {**(proposal or nothing_yet()), "choices": [to_plain(one) for one in choices]}


def nothing_yet() -> Proposal:
    """Give a proposal in which nothing is given and nobody is answered."""
    return {"allocations": [], "rules": [], "answers": [], "remarks": []}


def proposal_of(found: ShareOut, case: ShareOutCase, choices: tuple[Choice, ...]) -> Proposal:
    """Give the proposal under review before confirming, as plain values."""
    given: dict[int, int] = {}
    for one in found.allocations:
        given[one.claim_id] = given.get(one.claim_id, 0) + one.count
    proposal = {
        "allocations": [to_plain(one) for one in found.allocations],
        "rules": [
            {
                "rule": one.number,
                "name": one.name,
                "value": one.value,
                "bound": one.bound,
                "status": one.words,
                "pass": 2 if one.beyond else 1,
            }
            for one in found.rules
        ],
        "answers": [
            {
                "claim_id": claim_id,
                "given": given.get(claim_id, 0),
                "standing": reason.standing.value,
                "reason": to_plain(reason),
                "sentence": reason_sentence(reason),
            }
            for claim_id, reason in sorted(found.reasons.items())
        ],
        "remarks": [one.value for one in remarks(case)],
    }
    return with_choices(proposal, choices)


def share_out_of(share_out: ShareOutRow) -> ShareOut:
    """Give back what was worked out, from its proposal and working."""
    proposal = share_out.proposal or nothing_yet()
    return ShareOut(
        allocations=tuple(from_plain(Allocation, one) for one in proposal["allocations"]),
        rules=tuple(_verdict(one) for one in proposal["rules"]),
        reasons={
            one["claim_id"]: from_plain(ClaimReason, one["reason"]) for one in proposal["answers"]
        },
        working=share_out.working or {},
    )


def _verdict(one: Mapping[str, Any]) -> RuleProof:
    plain = {status.value: status for status in Status}
    status = plain.get(str(one["status"]), Status.WITHIN)
    number, beyond = NAMES.index(one["name"]) + 1, one.get("pass", 1) == 2
    return RuleProof(number, one["value"], one["bound"], status, beyond)
