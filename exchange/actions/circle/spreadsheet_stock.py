"""Plants as they stand while the rows of a file go in: each row sees those before it, none asks the records."""

from collections import Counter, defaultdict
from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from datetime import date

from exchange.actions.growing.batches import NewBatch, batch_row, check_count, first_of
from exchange.actions.kernel.actor import Actor
from exchange.actions.sharing.spare_batch import Offered, batch_alike, batch_behind
from exchange.domain.circle.place import Place
from exchange.domain.growing.batch import Batch, Material
from exchange.domain.growing.last_plant import PlantsKept
from exchange.records import BATCHES, PLACES, SPARES, Tx


@dataclass(slots=True)
class StockAsRead:
    """Batches and what is listed of them; new ones have ids below 0 until they are kept.

    Attributes
    ----------
    counted : batches that were there, as they were counted before and now [id -> "2/5"]
    """

    tx: Tx
    circle_id: int
    today: date
    counted: dict[str, str] = field(default_factory=dict)
    _there: dict[tuple[int, int], list[Batch]] = field(default_factory=lambda: defaultdict(list))
    _places: dict[int, list[Place]] = field(default_factory=lambda: defaultdict(list))
    _listed: Counter[tuple[int, int]] = field(default_factory=Counter)
    _own: Counter[tuple[int, int]] = field(default_factory=Counter)
    _living: Counter[int] = field(default_factory=Counter)
    _new: list[Batch] = field(default_factory=list)

    def __post_init__(self) -> None:
        for place in PLACES.all(self.tx, self.circle_id):
            self._places[place.household_id].append(place)
        for batch in BATCHES.all(self.tx, self.circle_id):
            self._there[batch.variety_id, batch.place_id].append(batch)
            self._count(batch, batch.plants)
        for one in SPARES.all(self.tx, self.circle_id, withdrawn_at=None):
            if one.send_by >= self.today:
                self._list(one.household_id, one.variety_id, one.material, one.count)

    def place(self, household_id: int) -> int:
        """Give the place a household's stock stands in."""
        return first_of(self._places[household_id])

    def kept(self, household_id: int, variety_id: int) -> PlantsKept:
        """Give what a household has of a variety beside what it has listed, and what the circle has."""
        key = (household_id, variety_id)
        return PlantsKept(max(0, self._own[key] - self._listed[key]), self._living[variety_id])

    def add(self, actor: Actor, new: NewBatch) -> int:
        """Take a batch in, or count again the one of the same kind in that place; gives its id."""
        check_count(new.plants)
        place_id = new.place_id or self.place(actor.own_household())
        row = batch_row(actor, new, place_id, self.today)
        there = self._there[new.variety_id, place_id]
        same = next((one for one in there if _kind(one) == _kind(row)), None)
        if same is not None:
            self._count_again(there, same, new.plants)
            return same.id
        row = replace(row, id=-1 - len(self._new))
        self._new.append(row)
        there.append(row)
        self._count(row, row.plants)
        return row.id

    def behind(self, actor: Actor, variety_id: int, offered: Offered, place_id: int) -> int:
        """Give the batch a spare comes from, made silently where none is known; count it as listed."""
        alike = batch_alike(self._there[variety_id, place_id], offered)
        made = alike.id if alike else self.add(actor, batch_behind(variety_id, offered, place_id))
        self._list(actor.own_household(), variety_id, offered.material, offered.count)
        return made

    def keep(self) -> dict[int, int]:
        """Keep what is new, and the new counts; gives the ids of the new ones [below 0 -> id]."""
        for row_id, counts in self.counted.items():
            plants = int(counts.partition("/")[2])
            BATCHES.change(self.tx, self.circle_id, int(row_id), plants=plants)
        ids = BATCHES.add_all(self.tx, self.circle_id, self._new)
        return {one.id: made for one, made in zip(self._new, ids, strict=True)}

    def _count_again(self, there: list[Batch], same: Batch, plants: int) -> None:
        counted = replace(same, plants=plants)
        there[there.index(same)] = counted
        self._count(same, plants - same.plants)
        if same.id < 0:
            self._new[-1 - same.id] = counted
        else:
            first = self.counted.get(str(same.id), str(same.plants)).partition("/")[0]
            self.counted[str(same.id)] = f"{first}/{plants}"

    def _count(self, batch: Batch, plants: int) -> None:
        self._own[batch.household_id, batch.variety_id] += plants
        self._living[batch.variety_id] += plants

    def _list(self, household_id: int, variety_id: int, material: Material, count: int) -> None:
        if material is not Material.UNROOTED:
            self._listed[household_id, variety_id] += count


def _kind(batch: Batch) -> Sequence[object]:
    return (batch.material, batch.raised, batch.shelter)
