"""The rows and columns behind a share-out, in whole numbers, without any solver.

Columns say how many plants of a pool go to a claim, and mark the steps the rules count. Every row is "at most". The
solver and the checker of workings both build the model from the case alone, so that only dual numbers need storing.
"""

from array import array
from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from typing import TypeVar

import numpy as np
from numpy.typing import NDArray

from exchange.domain.sharing.case import ShareOutCase
from exchange.domain.sharing.measure import Measure
from exchange.domain.sharing.pairs import Pairs

Key = TypeVar("Key")
Ints = NDArray[np.int64]


def _whole_numbers() -> "array[int]":
    """Give an empty list of 64-bit whole numbers."""
    return array("q")


@dataclass(slots=True)
class Model:
    """Columns with an upper limit, rows of the form sum(coefficient x column) <= limit.

    Attributes
    ----------
    upper : upper limit of each column; the lower one is 0
    limits : of each row
    lengths : of each row, how many entries it has
    index, value : of each entry, row by row, its column and its coefficient
    aims : by rule, the coefficients to maximise (column -> whole number)
    """

    upper: list[int] = field(default_factory=list)
    limits: list[int] = field(default_factory=list)
    lengths: "array[int]" = field(default_factory=_whole_numbers)
    index: "array[int]" = field(default_factory=_whole_numbers)
    value: "array[int]" = field(default_factory=_whole_numbers)
    aims: dict[int, dict[int, int]] = field(default_factory=dict)

    def column(self, upper: int) -> int:
        """Add a column and give its number."""
        self.upper.append(upper)
        return len(self.upper) - 1

    def steps(self, count: int) -> range:
        """Add columns that are climbed or not, and give their numbers."""
        first = len(self.upper)
        self.upper += [1] * count
        return range(first, first + count)

    def row(self, entries: Iterable[tuple[int, int]], limit: int) -> int:
        """Add a row of (column, coefficient) and give its number."""
        before = len(self.index)
        for column, coefficient in entries:
            self.index.append(column)
            self.value.append(coefficient)
        self.lengths.append(len(self.index) - before)
        self.limits.append(limit)
        return len(self.limits) - 1

    def rows_of(self, row: Ints, column: Ints, limits: Ints, taken: int = 0) -> None:
        """Add several rows at once, each entry with its row counted from 0; the last `taken` entries count -1."""
        order = np.argsort(row, kind="stable")
        value = np.repeat(np.array([1, -1], dtype=np.int64), [len(row) - taken, taken])
        self.limits += limits.tolist()
        self.lengths.frombytes(np.bincount(row, minlength=len(limits)).astype(np.int64).tobytes())
        self.index.frombytes(column[order].astype(np.int64).tobytes())
        self.value.frombytes(value[order].tobytes())

    def listed(self) -> list[list[tuple[int, int]]]:
        """Give the rows one by one, as lists of (column, coefficient)."""
        once = [(column, 1) for column in range(len(self.upper))]
        entries = zip(self.index, self.value, strict=True)
        # An entry that counts a column once is the same object in all its rows: there are very many.
        every = [once[column] if value == 1 else (column, value) for column, value in entries]
        ends = np.cumsum(self.lengths).tolist()
        return [every[end - length : end] for end, length in zip(ends, self.lengths, strict=True)]


@dataclass(frozen=True, slots=True)
class Layout:
    """Where things lie in the model of one case.

    Attributes
    ----------
    supply_rows : by pool number, its row
    steps : by must-not-be-lost variety, (column, what it counts) of each column of rule 1
    tight : whether limits are drawn in once pools are taken apart
    """

    model: Model
    supply_rows: Mapping[int, int]
    steps: Mapping[int, tuple[tuple[int, int], ...]]
    tight: bool


@dataclass(frozen=True, slots=True)
class _PairColumns:
    """What is known of each column that stands for a pair.

    Attributes
    ----------
    upper : the most plants
    place : where they would go, as its id
    contested : the columns of contested varieties
    both : of each of those, a number for household and variety
    whose, what : of each such number, its household and its variety
    """

    upper: Ints
    place: Ints
    contested: Ints
    both: Ints
    whose: Ints
    what: Ints


def build(case: ShareOutCase, pairs: Pairs, measure: Measure) -> Layout:
    """Build the pooled model of rules 1 to 4; column i is pair i, then come the rules' own columns."""
    model = Model()
    left_spare, left_claim = what_is_left(case)
    stock = _ints(sum(left_spare[one] for one in pool.spares) for pool in pairs.pools)
    wanting = _ints(left_claim)
    columns = _columns(case, pairs, measure, np.minimum(stock[pairs.pool], wanting[pairs.claim]))
    model.upper += columns.upper.tolist()
    pools = _rows_by(model, pairs.pool, stock)
    _rows_by(model, pairs.claim, np.maximum(wanting, 0))
    _most_rows(model, case, measure, columns)
    _room_rows(model, pairs, columns)
    steps = _precious(model, pairs, measure, columns)
    _one_each(model, measure, columns)
    _ladder(model, case, pairs, measure, columns)
    model.aims[4] = dict(enumerate(_wishes(case, pairs, measure).tolist()))
    return Layout(
        model, {pool: row for row, pool in enumerate(pools.tolist())}, steps, measure.tight
    )


def what_is_left(case: ShareOutCase) -> tuple[list[int], list[int]]:
    """Give what each spare still has and each claim still asks, beyond what stands already [plants]."""
    spares = {one.id: number for number, one in enumerate(case.spares)}
    claims = {one.id: number for number, one in enumerate(case.claims)}
    left_spare = [one.count for one in case.spares]
    left_claim = [one.asked for one in case.claims]
    for one in case.standing:
        left_spare[spares[one.spare_id]] -= one.count
        left_claim[claims[one.claim_id]] -= one.count
    return left_spare, left_claim


def _ints(values: Iterable[int]) -> Ints:
    """Give whole numbers as an array."""
    return np.fromiter(values, dtype=np.int64)


def _columns(case: ShareOutCase, pairs: Pairs, measure: Measure, most: Ints) -> _PairColumns:
    """Look up what is known of each pair."""
    household = _ints(one.household_id for one in case.claims)[pairs.claim]
    place = _ints(one.place_id for one in case.claims)[pairs.claim]
    contested = np.flatnonzero(np.isin(pairs.variety, list(measure.contested)))
    households, whose = np.unique(household[contested], return_inverse=True)
    varieties, what = np.unique(pairs.variety[contested], return_inverse=True)
    known, both = np.unique(whose * len(varieties) + what, return_inverse=True)
    return _PairColumns(
        upper=np.maximum(most, 0),
        place=place,
        contested=contested,
        both=both,
        whose=households[known // max(1, len(varieties))],
        what=varieties[known % max(1, len(varieties))],
    )


def _grouped(keys: Iterable[Key]) -> dict[Key, list[int]]:
    """Group numbers by key, in order of appearance."""
    groups: defaultdict[Key, list[int]] = defaultdict(list)
    for number, key in enumerate(keys):
        groups[key].append(number)
    return groups


def _rows_by(model: Model, keys: Ints, limits: Ints) -> Ints:
    """Hold the columns of each key together to its limit; give the keys, which are indices into the limits."""
    found, row = np.unique(keys, return_inverse=True)
    model.rows_of(row, np.arange(len(keys)), limits[found])
    return found


def _most_rows(model: Model, case: ShareOutCase, measure: Measure, columns: _PairColumns) -> None:
    """Hold each household to the most plants of a contested variety."""
    most = _ints(
        max(0, case.most_contested - measure.standing_pairs.get(ends, 0))
        for ends in zip(columns.whose.tolist(), columns.what.tolist(), strict=True)
    )
    model.rows_of(columns.both, columns.contested, most)


def _room_rows(model: Model, pairs: Pairs, columns: _PairColumns) -> None:
    """Hold each place to its room: nested rows, by how warm a shelter the latest day still needs."""
    places, place = np.unique(columns.place, return_inverse=True)
    rooms = [pairs.room[one] for one in places.tolist()]
    for depth in range(max(map(len, rooms), default=0)):
        within = np.flatnonzero(pairs.depth <= depth)
        could = np.zeros(len(places), dtype=np.int64)
        np.add.at(could, place[within], columns.upper[within])
        top = int(could.max(initial=0))
        room = (one[depth] for one in rooms)
        free = _ints(top if one is None else one for one in room)
        adds = np.zeros(len(places), dtype=bool)
        adds[place[pairs.depth == depth]] = True
        holds = np.flatnonzero(adds & (could > free))
        number = np.full(len(places), -1, dtype=np.int64)
        number[holds] = np.arange(len(holds))
        held = within[number[place[within]] >= 0]
        model.rows_of(number[place[held]], held, free[holds])


def _precious(
    model: Model, pairs: Pairs, measure: Measure, columns: _PairColumns
) -> dict[int, tuple[tuple[int, int], ...]]:
    """Add rule 1's columns, variety by variety."""
    precious = np.flatnonzero(np.isin(pairs.variety, list(measure.precious)))
    ends = (pairs.variety[precious].tolist(), columns.place[precious].tolist())
    open_to: defaultdict[int, dict[int, list[int]]] = defaultdict(dict)
    for (variety, place), those in _grouped(zip(*ends, strict=True)).items():
        open_to[variety][place] = precious[those].tolist()
    steps = {
        variety: tuple(measure.precious[variety].add_columns(model, open_to[variety]))
        for variety in sorted(open_to)
    }
    model.aims[1] = {column: gain for those in steps.values() for column, gain in those}
    return steps


def _one_each(model: Model, measure: Measure, columns: _PairColumns) -> None:
    """Add rule 2's steps: the first plant of a contested variety in a household."""
    ends = list(zip(columns.whose.tolist(), columns.what.tolist(), strict=True))
    first = np.array([measure.standing_pairs.get(one, 0) == 0 for one in ends], dtype=bool)
    number = np.cumsum(first) - 1
    steps = model.steps(int(first.sum()))
    counted = np.flatnonzero(first[columns.both])
    model.rows_of(
        np.concatenate((np.arange(len(steps)), number[columns.both[counted]])),
        np.concatenate((_ints(steps), columns.contested[counted])),
        np.zeros(len(steps), dtype=np.int64),
        taken=len(counted),
    )
    gains = [measure.first_plant(ends[one][0]) for one in np.flatnonzero(first).tolist()]
    model.aims[2] = dict(zip(steps, gains, strict=True))


def _ladder(
    model: Model, case: ShareOutCase, pairs: Pairs, measure: Measure, columns: _PairColumns
) -> None:
    """Add rule 3's steps: each further contested plant of a household counts less."""
    plants = np.zeros(len(columns.whose), dtype=np.int64)
    np.add.at(plants, columns.both, columns.upper[columns.contested])
    households, owner = np.unique(columns.whose, return_inverse=True)
    most = np.zeros(len(households), dtype=np.int64)
    np.add.at(most, owner, np.minimum(plants, case.most_contested))
    asked = np.zeros(len(households), dtype=np.int64)
    claims = np.unique(pairs.claim[columns.contested]).tolist()
    askers = [case.claims[one].household_id for one in claims]
    wanting = _ints(case.claims[one].asked for one in claims)
    np.add.at(asked, np.searchsorted(households, askers), wanting)
    step_of: list[int] = []
    aim: dict[int, int] = {}
    for number, household in enumerate(households.tolist()):
        gains = measure.ladder(household, min(int(most[number]), int(asked[number])))
        aim.update(zip(model.steps(len(gains)), gains, strict=True))
        step_of += [number] * len(gains)
    model.rows_of(
        np.concatenate((_ints(step_of), owner[columns.both])),
        np.concatenate((_ints(aim), columns.contested)),
        np.zeros(len(households), dtype=np.int64),
        taken=len(columns.both),
    )
    model.aims[3] = aim


def _wishes(case: ShareOutCase, pairs: Pairs, measure: Measure) -> Ints:
    """Give what a plant of each column counts under rule 4."""
    choice = _ints(one.choice for one in case.claims)[pairs.claim]
    ranks = int(pairs.rank.max(initial=0)) + 1
    kinds, kind = np.unique(choice * ranks + pairs.rank, return_inverse=True)
    counts = [measure.wish(one // ranks, one % ranks) for one in kinds.tolist()]
    return _ints(counts)[kind]
