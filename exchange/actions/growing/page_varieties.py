"""What the pages of varieties show: who grows what, and the chance of losing it."""

from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime

from exchange.actions.growing.batches import COUNT
from exchange.actions.growing.varieties import MARKS
from exchange.actions.kernel.actor import Actor, today_in
from exchange.actions.kernel.edits import version_of
from exchange.actions.kernel.mergers import MergerLine, can_be_undone
from exchange.actions.people.labels import household_labels
from exchange.domain.circle.moves import MergerKind
from exchange.domain.growing.batch import Batch
from exchange.domain.growing.losing import (
    Holding,
    another_home,
    holding,
    variety_lost,
    winter_shelter,
)
from exchange.domain.growing.names import fold_accents
from exchange.domain.growing.plant_class import PlantClass
from exchange.domain.growing.shelter import Shelter
from exchange.domain.growing.variety import Species, Variety
from exchange.domain.permissions import Permission, may
from exchange.records import (
    BATCHES,
    CLAIMS,
    PLACES,
    PLANT_CLASSES,
    SHELTERS,
    SPARES,
    VARIETIES,
    NotHereError,
    Tx,
    circles,
)
from exchange.records.claims import open_claims
from exchange.records.rows.growing import VarietyRow
from exchange.records.varieties import standing_varieties, variety_meant_by


@dataclass(frozen=True, slots=True)
class VarietyLine:
    """One variety as the list shows it.

    Attributes
    ----------
    plants : living plants the circle knows of [plants]
    places : places it stands in [places]
    chance : chance that the circle loses it this winter, None when nobody is known to have a plant
    """

    variety: VarietyRow
    plants: int
    places: int
    claims: int
    spares: int
    chance: float | None


@dataclass(frozen=True, slots=True)
class BatchLine:
    """One batch and who holds it, as first names and county."""

    batch: Batch
    holder: str
    place: str
    mine: bool


@dataclass(frozen=True, slots=True)
class BatchPage:
    """One batch, for whoever may count it again."""

    variety: Variety
    batch: Batch
    place: str

    @property
    def version(self) -> str:
        return version_of(self.batch, COUNT)


@dataclass(frozen=True, slots=True)
class VarietyPage:
    """One variety.

    Attributes
    ----------
    holder : whether the reader's household has it living
    gardens : households that have it living [households]
    places : the reader's own places
    may_mark : whether the reader may say how it keeps and whether it must not be lost
    may_mend : whether the reader may make it one with another
    classes : its group and its size, as far as they were said
    mergers : varieties made one with it, as long as that can be undone
    """

    line: VarietyLine
    batches: tuple[BatchLine, ...]
    holder: bool
    chance_with_one_more: float | None
    gardens: int
    places: tuple[tuple[int, str], ...]
    may_mark: bool
    my_claim: bool
    may_mend: bool
    classes: tuple[PlantClass, ...]
    mergers: tuple[MergerLine, ...]

    @property
    def marks_version(self) -> str:
        return version_of(self.line.variety, MARKS)


def varieties_page(
    actor: Actor, text: str, species: Species | None, now: datetime
) -> tuple[VarietyLine, ...]:
    """Show the circle's varieties, narrowed to part of a name or a kind of plant."""
    del now
    actor.must(Permission.SEE_CIRCLE)
    wanted = fold_accents(text)
    with actor.books.reading() as tx:
        lines = variety_lines(tx, actor.circle_id)
    return tuple(
        line
        for line in lines
        if (not wanted or wanted in fold_accents(line.variety.name))
        and species in (None, line.variety.species)
    )


def variety_page(actor: Actor, variety_id: int, now: datetime) -> VarietyPage:
    """Show one variety: its holders, and how safe it is."""
    actor.must(Permission.SEE_CIRCLE)
    with actor.books.reading() as tx:
        variety = variety_meant_by(tx, actor.circle_id, variety_id)
        variety_id = variety.id
        (line,) = _lines(tx, actor.circle_id, (variety,))
        labels = household_labels(tx, actor.circle_id)
        places = PLACES.by_id(tx, actor.circle_id)
        living = [
            batch
            for batch in BATCHES.all(tx, actor.circle_id, variety_id=variety_id)
            if batch.plants
        ]
        batches = tuple(
            BatchLine(
                batch,
                labels.get(batch.household_id, ""),
                places[batch.place_id].name,
                batch.household_id == actor.household_id,
            )
            for batch in living
        )
        return VarietyPage(
            line,
            batches,
            any(one.mine for one in batches),
            _with_one_more(tx, actor.circle_id, line.variety),
            len({batch.household_id for batch in living}),
            tuple(
                (place.id, f"{place.name}, {place.town}")
                for place in places.values()
                if place.household_id == actor.household_id
            ),
            actor.organiser or any(one.mine for one in batches),
            any(
                claim.household_id == actor.household_id and claim.variety_id == variety_id
                for claim in open_claims(tx, actor.circle_id)
            ),
            may(actor.person, Permission.MEND_NAMES),
            PLANT_CLASSES.all(
                tx, actor.circle_id, id={variety.group_id or 0, variety.size_id or 0}
            ),
            _mergers(tx, actor.circle_id, variety_id, now),
        )


def _mergers(tx: Tx, circle_id: int, variety_id: int, now: datetime) -> tuple[MergerLine, ...]:
    circle = circles.get(tx, circle_id)
    return tuple(
        MergerLine(
            one.id,
            VARIETIES.get(tx, circle_id, one.merged_id).name,
            today_in(circle, one.done_at),
        )
        for one in can_be_undone(tx, circle_id, MergerKind.VARIETY, variety_id, now)
    )


def batch_page(actor: Actor, variety_id: int, batch_id: int) -> BatchPage:
    """Show one batch to its household or the organiser; to others it is not there."""
    actor.must(Permission.SEE_CIRCLE)
    with actor.books.reading() as tx:
        variety = VARIETIES.get(tx, actor.circle_id, variety_id)
        batch = BATCHES.get(tx, actor.circle_id, batch_id)
        mine = batch.household_id == actor.household_id
        if batch.variety_id != variety_id or not (mine or actor.organiser):
            raise NotHereError(f"batch {batch_id} is not to be counted here")
        place = PLACES.get(tx, actor.circle_id, batch.place_id)
        return BatchPage(variety, batch, place.name)


def variety_lines(tx: Tx, circle_id: int) -> tuple[VarietyLine, ...]:
    """Give every variety of the circle, in order of name."""
    return _lines(tx, circle_id, standing_varieties(tx, circle_id))


def _lines(tx: Tx, circle_id: int, varieties: Iterable[VarietyRow]) -> tuple[VarietyLine, ...]:
    batches: dict[int, list[Batch]] = {}
    for batch in BATCHES.all(tx, circle_id):
        if batch.plants:
            batches.setdefault(batch.variety_id, []).append(batch)
    claims = Counter(
        one.variety_id for one in CLAIMS.all(tx, circle_id, withdrawn_at=None, set_aside=False)
    )
    spares = Counter[int]()
    for spare in SPARES.all(tx, circle_id, withdrawn_at=None, set_aside_for=None):
        spares[spare.variety_id] += spare.count - spare.allocated
    shelters = _shelters(tx, circle_id)
    lines = []
    for variety in varieties:
        own = tuple(batches.get(variety.id, ()))
        lines.append(
            VarietyLine(
                variety,
                sum(batch.plants for batch in own),
                len({batch.place_id for batch in own}),
                claims[variety.id],
                spares[variety.id],
                float(variety_lost(_holdings(variety, own, shelters))) if own else None,
            )
        )
    lines.sort(key=lambda line: fold_accents(line.variety.name))
    return tuple(lines)


def _with_one_more(tx: Tx, circle_id: int, variety: Variety) -> float | None:
    """Give the chance of losing it when one more place of the right kind held one plant of it."""
    own = tuple(one for one in BATCHES.all(tx, circle_id, variety_id=variety.id) if one.plants)
    if not own:
        return None
    holdings = _holdings(variety, own, _shelters(tx, circle_id))
    return float(variety_lost((*holdings, another_home(variety))))


def _shelters(tx: Tx, circle_id: int) -> Mapping[int, tuple[Shelter, ...]]:
    by_place: dict[int, list[Shelter]] = {}
    for entry in SHELTERS.all(tx, circle_id):
        shelter = Shelter(entry.place_id, entry.kind, entry.room_pots, entry.carried_in)
        by_place.setdefault(entry.place_id, []).append(shelter)
    return {place_id: tuple(kinds) for place_id, kinds in by_place.items()}


def _holdings(
    variety: Variety, batches: tuple[Batch, ...], shelters: Mapping[int, tuple[Shelter, ...]]
) -> tuple[Holding, ...]:
    plants = Counter[int]()
    for batch in batches:
        plants[batch.place_id] += batch.plants
    return tuple(
        holding(variety, place_id, winter_shelter(variety, shelters.get(place_id, ())), count)
        for place_id, count in sorted(plants.items())
    )
