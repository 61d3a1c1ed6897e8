"""Plants that were given and do not come, where nothing else was sent instead: not sent, or lost on the way."""

from collections import Counter
from collections.abc import Set as AbstractSet
from datetime import datetime

from exchange.actions.kernel.actor import Actor
from exchange.actions.kernel.letters import write
from exchange.actions.posting.parcel_lines import what_comes
from exchange.domain.sharing.states import STANDING, AllocationState
from exchange.records import ALLOCATIONS, CLAIMS, MEMBERS, SPARES, VARIETIES, Tx, circles
from exchange.records.rows.sharing import AllocationRow
from exchange.words.kernel.letters import LetterReader
from exchange.words.sharing.share_out_after import not_after_all, not_sent

NOT_SENT = frozenset({AllocationState.REFUSED, AllocationState.FAILED, AllocationState.LOST})
"""States of an allocation that does not come; what its receiver declined is not among them."""


def not_sent_of(
    tx: Tx, circle_id: int, looked_at: AbstractSet[int], claim_ids: AbstractSet[int] | None = None
) -> dict[int, tuple[int, str]]:
    """Give each claim that lacks plants it was given and is not sent, with how many, and the sentence.

    Parameters
    ----------
    looked_at : varieties that the reserve is still to be offered
    claim_ids : only these claims; None for all

    Returns
    -------
    claim -> plants not sent and not made good, and what is said of it [plants]
    """
    lacking, stands, varieties = Counter[int](), Counter[int](), dict[int, set[int]]()
    lost = Counter[int]()
    for one in _of_share_outs(tx, circle_id, claim_ids):
        if one.state in STANDING:
            stands[one.claim_id] += one.count
        elif one.state in NOT_SENT:
            lacking[one.claim_id] += one.count
            lost[one.claim_id] += one.count if one.state is AllocationState.LOST else 0
            variety = SPARES.get(tx, circle_id, one.spare_id).variety_id
            varieties.setdefault(one.claim_id, set()).add(variety)
    claims = CLAIMS.by_id(tx, circle_id, id=set(lacking))
    found = {}
    for claim_id, claim in claims.items():
        lacks = min(lacking[claim_id], claim.asked - stands[claim_id])
        if lacks > 0 and claim.withdrawn_at is None:
            still = bool(varieties[claim_id] & looked_at)
            found[claim_id] = (
                lacks,
                not_sent(lacks, looked_at=still, lost=min(lost[claim_id], lacks)),
            )
    return found


def tell_not_sent(tx: Tx, actor: Actor, variety_id: int, now: datetime) -> None:
    """Write to whom plants of a variety were given, cannot be sent, and the reserve had no others; once for each."""
    missing = not_sent_of(tx, actor.circle_id, frozenset())
    circle = circles.get(tx, actor.circle_id)
    varieties = VARIETIES.by_id(tx, actor.circle_id)
    link = f"{actor.house.public_url}/claims"
    for one in _of_share_outs(tx, actor.circle_id, set(missing)):
        spare = SPARES.get(tx, actor.circle_id, one.spare_id)
        if one.state not in NOT_SENT or spare.variety_id != variety_id:
            continue
        claim = CLAIMS.get(tx, actor.circle_id, one.claim_id)
        lacks = min(one.count, missing[claim.id][0])
        what = what_comes(lacks, spare, claim, varieties)
        for member in MEMBERS.all(
            tx, actor.circle_id, household_id=claim.household_id, left_at=None
        ):
            reader, lost = (
                LetterReader(member.first_name, circle.name),
                one.state is AllocationState.LOST,
            )
            letter = not_after_all(reader, lacks, what, link, lost=lost)
            write(tx, actor.house, member, letter, f"not_sent:{one.id}:{member.id}", now)


def _of_share_outs(
    tx: Tx, circle_id: int, claim_ids: AbstractSet[int] | None
) -> tuple[AllocationRow, ...]:
    """Give what share-outs gave to the claims; what was set aside is no share-out's."""
    found = (
        ALLOCATIONS.all(tx, circle_id)
        if claim_ids is None
        else ALLOCATIONS.all(tx, circle_id, claim_id=set(claim_ids))
    )
    return tuple(one for one in found if one.share_out_id is not None)
