"""Calls of the records as they should be, and mistakes; read by the type checker, never run.

A line that ends in "mistake" is to be refused, every other is to pass.
"""

from datetime import datetime

from exchange.domain.growing.batch import Material
from exchange.domain.sharing.states import STANDING, AllocationState, ShareOutState
from exchange.records import ALLOCATIONS, PLACES, TASKS, VARIETIES, Tx, circles, parcel_heads
from exchange.records.rows.running import UNDER_WAY, TaskState
from exchange.records.rows.sharing import AllocationChange, AllocationWhere


def as_it_should_be(tx: Tx, now: datetime) -> None:
    ALLOCATIONS.add(tx, 1, spare_id=2, claim_id=3, count=1, made_at=now)
    ALLOCATIONS.change(tx, 1, 7, state=AllocationState.AGREED, answered_at=now)
    ALLOCATIONS.all(tx, 1, state=STANDING, claim_id={3, 4}, share_out_id=None)
    TASKS.find(tx, 1, kind={"plan", "forecasts"}, state=UNDER_WAY)
    circles.change(tx, 1, fixed_today=None)
    parcel_heads.heads(tx, 1, held=True)
    change: AllocationChange = {"count": 2}
    ALLOCATIONS.change(tx, 1, 7, **change)


def adding(tx: Tx, now: datetime) -> None:
    ALLOCATIONS.add(tx, 1, spare=2, claim_id=3, count=1, made_at=now)  # mistake
    ALLOCATIONS.add(tx, 1, spare_id=2, claim_id=3, count=1)  # mistake
    ALLOCATIONS.add(tx, 1, spare_id=2, claim_id=3, count="1", made_at=now)  # mistake
    ALLOCATIONS.add(tx, 1, spare_id=None, claim_id=3, count=1, made_at=now)  # mistake
    ALLOCATIONS.add(tx, 1, 2, claim_id=3, count=1, made_at=now)  # mistake
    VARIETIES.add(tx, 1, species="dahlia", name="Tin Kettle", folded="tin kettle")  # mistake


def changing(tx: Tx, now: datetime) -> None:
    ALLOCATIONS.change(tx, 1, 7, cuont=2)  # mistake
    ALLOCATIONS.change(tx, 1, 7, count=2.5)  # mistake
    ALLOCATIONS.change(tx, 1, 7, state="agreed", answered_at=now)  # mistake
    ALLOCATIONS.change(tx, 1, 7, state=ShareOutState.OPEN)  # mistake
    ALLOCATIONS.change(tx, 1, 7, spare_id=3)  # mistake
    TASKS.change(tx, 1, 7, state=TaskState.DONE)  # mistake
    circles.change(tx, 1, fixed_todya=None)  # mistake
    change: AllocationChange = {"cuont": 2}  # mistake
    ALLOCATIONS.change(tx, 1, 7, **change)


def asking(tx: Tx, now: datetime, household_id: int | None) -> None:
    ALLOCATIONS.all(tx, 1, climb_id=3)  # mistake
    ALLOCATIONS.all(tx, 1, made_at=now)  # mistake
    ALLOCATIONS.find(tx, 1, state="agreed")  # mistake
    ALLOCATIONS.by_id(tx, 1, claim_id={"3"})  # mistake
    PLACES.all(tx, 1, household_id=household_id)  # mistake
    PLACES.all(tx, 1, town="Ludlow")  # mistake
    parcel_heads.heads(tx, 1, plan=None)  # mistake
    where: AllocationWhere = {"state": Material.ROOTED}  # mistake
    ALLOCATIONS.all(tx, 1, **where)


def writing_to_a_row(tx: Tx) -> None:
    row = ALLOCATIONS.get(tx, 1, 7)
    row.state = AllocationState.AGREED  # mistake
    row.spares = 3  # mistake


def past_the_repositories(tx: Tx) -> None:
    tx.execute("DELETE FROM spare")  # mistake
    tx.commit()  # mistake
