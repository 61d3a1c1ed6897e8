"""The batch a spare comes from: found, made silently, or put right with the spare."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

from exchange.actions.growing.batches import NewBatch, add_batch
from exchange.actions.kernel.actor import Actor, circle_of, today_in
from exchange.domain.growing.batch import Batch, Material, Raised
from exchange.records import BATCHES, SPARES, Tx
from exchange.records.rows.growing import SpareRow


@dataclass(frozen=True, slots=True)
class Offered:
    """What is offered: what it is sent as, how it was raised, and how many [plants]."""

    material: Material
    raised: Raised
    count: int


def batch_of(
    tx: Tx, actor: Actor, variety_id: int, offered: Offered, place_id: int, now: datetime
) -> int:
    """Find the batch a spare comes from, or make it silently."""
    there = BATCHES.all(tx, actor.circle_id, variety_id=variety_id, place_id=place_id)
    alike = batch_alike(there, offered)
    if alike is not None:
        return alike.id
    return add_batch(tx, actor, batch_behind(variety_id, offered, place_id), now)


def batch_alike(there: Sequence[Batch], offered: Offered) -> Batch | None:
    """Give the batch of its variety and place that a spare comes from, the most alike first; None where none lives."""
    living = [batch for batch in there if batch.plants]
    wanted = (offered.material, offered.raised)
    alike = [batch for batch in living if (batch.material, batch.raised) == wanted]
    return next(iter(alike or living), None)


def batch_behind(variety_id: int, offered: Offered, place_id: int) -> NewBatch:
    """Give the batch that a spare must come from where none is known."""
    material, plants = _grows_as(offered)
    return NewBatch(variety_id, plants, place_id, material, offered.raised)


def batch_of_other(
    tx: Tx, actor: Actor, spare: SpareRow, variety_id: int, offered: Offered, now: datetime
) -> int:
    """Give the batch of a spare that turns out to be another variety.

    A batch that was made silently with the spare alone goes along, so that nobody is said to
    grow the variety that was written by mistake.
    """
    old = _made_with(tx, actor, spare)
    batch_id = batch_of(tx, actor, variety_id, offered, spare.place_id, now)
    if old is not None:
        BATCHES.remove(tx, actor.circle_id, old.id)
    return batch_id


def _made_with(tx: Tx, actor: Actor, spare: SpareRow) -> Batch | None:
    """Give the batch that was made silently when a spare was listed, as long as it is as it was."""
    if spare.batch_id is None:
        return None
    old = BATCHES.get(tx, actor.circle_id, spare.batch_id)
    listed = today_in(circle_of(actor, tx), spare.listed_at)
    made = _grows_as(Offered(spare.material, spare.raised, spare.count))
    as_made = (old.material, old.plants) == made and (old.since, old.origin) == (listed, "")
    others = SPARES.all(tx, actor.circle_id, variety_id=spare.variety_id)
    shared = any(one.batch_id == old.id and one.id != spare.id for one in others)
    return old if as_made and not shared else None


def _grows_as(offered: Offered) -> tuple[Material, int]:
    """Give what stands there: unrooted cuttings are the one plant they are cut from."""
    if offered.material is Material.UNROOTED:
        return Material.YOUNG_PLANT, 1
    return offered.material, offered.count
