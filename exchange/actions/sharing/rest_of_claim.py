"""What a claim still lacks is parted from what it was given, so that it can end and be revived by itself."""

from typing import Unpack

from exchange.actions.kernel.actor import Actor
from exchange.records import CLAIMS, Tx
from exchange.records.rows.growing import ClaimChange, ClaimRow


def end_rest(
    tx: Tx, actor: Actor, entry: ClaimRow, lacks: int, **ended: Unpack[ClaimChange]
) -> ClaimRow:
    """End what a claim still lacks, within an act; what it was given stays with it as all it asks for.

    Parameters
    ----------
    lacks : all it asks for where it was given nothing [plants]

    Returns
    -------
    the claim that ended: a new one for the rest where some was given, else the claim itself
    """
    rest_id = entry.id
    if lacks < entry.asked:
        CLAIMS.change(tx, actor.circle_id, entry.id, asked=entry.asked - lacks)
        rest_id = CLAIMS.add(
            tx,
            actor.circle_id,
            household_id=entry.household_id,
            place_id=entry.place_id,
            variety_id=entry.variety_id,
            asked=lacks,
            choice=entry.choice,
            materials=entry.materials,
            no_use_after=entry.no_use_after,
            alternatives=entry.alternatives,
            made_at=entry.made_at,
            entered_by=entry.entered_by,
            wanted_at=entry.wanted_at,
            questioned_at=entry.questioned_at,
        )
    CLAIMS.change(tx, actor.circle_id, rest_id, **ended)
    return CLAIMS.get(tx, actor.circle_id, rest_id)
