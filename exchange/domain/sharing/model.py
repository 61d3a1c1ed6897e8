"""The rows and columns behind a share-out, in whole numbers, without any solver.

Columns say how many plants of a pool go to a claim, and mark the steps the rules count. Every row is "at most". The
solver and the checker of workings both build the model from the case alone, so that only dual numbers need storing.
"""

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import TypeVar

from exchange.domain.sharing.case import Case
from exchange.domain.sharing.measure import Measure
from exchange.domain.sharing.pairs import Pairs

Key = TypeVar("Key")


@dataclass(slots=True)
class Model:
    """Columns with an upper limit, rows of the form sum(coefficient x column) <= limit.

    Attributes
    ----------
    upper : upper limit of each column; the lower one is 0
    rows : of each row, its entries (column, coefficient)
    limits : of each row
    aims : by rule, the coefficients to maximise (column -> whole number)
    once : of each column, the entry that counts it once; shared by all rows it stands in
    """

    upper: list[int] = field(default_factory=list)
    once: list[tuple[int, int]] = field(default_factory=list)
    rows: list[list[tuple[int, int]]] = field(default_factory=list)
    limits: list[int] = field(default_factory=list)
    aims: dict[int, dict[int, int]] = field(default_factory=dict)

    def column(self, upper: int) -> int:
        """Add a column and give its number."""
        number = len(self.upper)
        self.upper.append(upper)
        self.once.append((number, 1))
        return number

    def row(self, entries: list[tuple[int, int]], limit: int) -> int:
        """Add a row and give its number."""
        self.rows.append(entries)
        self.limits.append(limit)
        return len(self.rows) - 1


@dataclass(frozen=True, slots=True)
class Layout:
    """Where things lie in the model of one case.

    Attributes
    ----------
    supply_rows : by pool number, its row
    steps : by must-not-be-lost variety, (column, gain) of each step of rule 1
    plain_rows : how many rows come before those of the rules
    """

    model: Model
    supply_rows: Mapping[int, int]
    steps: Mapping[int, tuple[tuple[int, int], ...]]


def build(case: Case, pairs: Pairs, measure: Measure) -> Layout:
    """Build the pooled model of rules 1 to 4; column i is pair i, then come the rules' steps."""
    model = Model()
    left_spare, left_claim = what_is_left(case)
    stock = [sum(left_spare[spare] for spare in pool.spares) for pool in pairs.pools]
    for pair in pairs.pairs:
        model.column(max(0, min(stock[pair.pool], left_claim[pair.claim])))
    supply = {}
    for pool, columns in _grouped(pair.pool for pair in pairs.pairs).items():
        supply[pool] = model.row([model.once[one] for one in columns], stock[pool])
    for claim, columns in _grouped(pair.claim for pair in pairs.pairs).items():
        model.row([model.once[one] for one in columns], max(0, left_claim[claim]))
    _most_rows(model, case, pairs, measure)
    _room_rows(model, case, pairs)
    steps = _loss_steps(model, case, pairs, measure)
    _one_each(model, case, pairs, measure)
    _ladder(model, case, pairs, measure)
    model.aims[4] = {
        column: measure.wish(case.claims[pair.claim].choice, pair.rank)
        for column, pair in enumerate(pairs.pairs)
    }
    return Layout(model, supply, steps)


def what_is_left(case: Case) -> tuple[list[int], list[int]]:
    """Give what each spare still has and each claim still asks, beyond what stands already [plants]."""
    spares = {one.id: number for number, one in enumerate(case.spares)}
    claims = {one.id: number for number, one in enumerate(case.claims)}
    left_spare = [one.count for one in case.spares]
    left_claim = [one.asked for one in case.claims]
    for one in case.standing:
        left_spare[spares[one.spare_id]] -= one.count
        left_claim[claims[one.claim_id]] -= one.count
    return left_spare, left_claim


def _grouped(keys: Iterable[Key | None]) -> dict[Key, list[int]]:
    """Group column numbers by key, in order of appearance; None is left out."""
    groups: defaultdict[Key, list[int]] = defaultdict(list)
    for number, key in enumerate(keys):
        if key is not None:
            groups[key].append(number)
    return groups


def _varieties(pairs: Pairs) -> list[int]:
    """Give each pair's variety."""
    return [pairs.pools[pair.pool].variety_id for pair in pairs.pairs]


def _contested_keys(case: Case, pairs: Pairs, measure: Measure) -> list[tuple[int, int] | None]:
    """Give household and variety of each pair of a contested variety, None for the others."""
    return [
        (case.claims[pair.claim].household_id, variety) if variety in measure.contested else None
        for pair, variety in zip(pairs.pairs, _varieties(pairs), strict=True)
    ]


def _most_rows(model: Model, case: Case, pairs: Pairs, measure: Measure) -> None:
    """Hold each household to the most plants of a contested variety."""
    for key, columns in _grouped(_contested_keys(case, pairs, measure)).items():
        limit = max(0, case.terms.most_contested - measure.standing_pairs.get(key, 0))
        model.row([model.once[one] for one in columns], limit)


def _room_rows(model: Model, case: Case, pairs: Pairs) -> None:
    """Hold each place to its room: nested rows, by how warm a shelter the latest day still needs."""
    places = _grouped(case.claims[pair.claim].place_id for pair in pairs.pairs)
    for place, columns in places.items():
        free = pairs.room[place]
        for depth, limit in enumerate(free):
            within = [one for one in columns if pairs.pairs[one].depth <= depth]
            adds = any(pairs.pairs[one].depth == depth for one in within)
            if adds and limit is not None and sum(model.upper[one] for one in within) > limit:
                model.row([model.once[one] for one in within], limit)


def _loss_steps(
    model: Model, case: Case, pairs: Pairs, measure: Measure
) -> dict[int, tuple[tuple[int, int], ...]]:
    """Add rule 1's steps: each further plant at a place gains less than the one before, and only so many count."""
    keys = [
        (variety, case.claims[pair.claim].place_id) if variety in measure.losses else None
        for pair, variety in zip(pairs.pairs, _varieties(pairs), strict=True)
    ]
    open_to: defaultdict[int, dict[int, list[int]]] = defaultdict(dict)
    for (variety, place), columns in _grouped(keys).items():
        open_to[variety][place] = columns
    steps: dict[int, tuple[tuple[int, int], ...]] = {}
    for variety in sorted(open_to):
        loss = measure.losses[variety]
        found: list[tuple[int, int]] = []
        for place in {**open_to[variety], **loss.standing}:
            columns = open_to[variety].get(place, [])
            most = sum(model.upper[one] for one in columns)
            gains = loss.gains_at(place, most)[: loss.enough]
            numbers = [model.column(1) for _ in gains]
            found += zip(numbers, gains, strict=True)
            model.row(_counted(numbers, columns), loss.standing.get(place, 0))
        model.row([model.once[column] for column, _ in found], loss.enough)
        steps[variety] = tuple(found)
    return steps


def _one_each(model: Model, case: Case, pairs: Pairs, measure: Measure) -> None:
    """Add rule 2's steps: the first plant of a contested variety in a household."""
    aim: dict[int, int] = {}
    for key, columns in _grouped(_contested_keys(case, pairs, measure)).items():
        if measure.standing_pairs.get(key, 0) == 0:
            number = model.column(1)
            aim[number] = measure.first_plant(key[0])
            model.row(_counted([number], columns), 0)
    model.aims[2] = aim


def _ladder(model: Model, case: Case, pairs: Pairs, measure: Measure) -> None:
    """Add rule 3's steps: each further contested plant of a household counts less."""
    aim: dict[int, int] = {}
    keys = _contested_keys(case, pairs, measure)
    by_variety: defaultdict[int, int] = defaultdict(int)
    for key, columns in _grouped(keys).items():
        plants = sum(model.upper[one] for one in columns)
        by_variety[key[0]] += min(plants, case.terms.most_contested)
    for household, columns in _grouped(key and key[0] for key in keys).items():
        claims = {pairs.pairs[one].claim for one in columns}
        most = min(by_variety[household], sum(case.claims[one].asked for one in claims))
        gains = measure.ladder(household, most)
        numbers = [model.column(1) for _ in gains]
        aim.update(zip(numbers, gains, strict=True))
        model.row(_counted(numbers, columns), 0)
    model.aims[3] = aim


def _counted(steps: Sequence[int], columns: Sequence[int]) -> list[tuple[int, int]]:
    """Give the entries of a row that lets as many steps be climbed as plants are received."""
    return [(one, 1) for one in steps] + [(one, -1) for one in columns]
