"""Rules 5 and 6: which spare of a pool serves a claim, in how many parcels.

Pools are taken apart on the face that rules 1 to 4 left, and a column is added for the parcels from each household to
each place. Built without a solver, so that the checker of workings builds the same.
"""

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from exchange.domain.sharing.case import ShareOutCase
from exchange.domain.sharing.model import Layout, Model, what_is_left
from exchange.domain.sharing.pairs import Pairs
from exchange.domain.sharing.rules import parcel_counts
from exchange.domain.sharing.tighten import Tightener


@dataclass(frozen=True, slots=True)
class ColumnLimits:
    """Limits of columns, and rows that must be full."""

    lower: Sequence[int]
    upper: Sequence[int]
    equal: Sequence[bool]


@dataclass(frozen=True, slots=True)
class Sourcing:
    """The model of rules 5 and 6.

    Attributes
    ----------
    single : by column, (spare index, claim index), for the first columns
    parcels : by column, (sending household, receiving place)
    elsewhere : parcels and postage of what stands between ends without any column
    """

    model: Model
    limits: ColumnLimits
    single: tuple[tuple[int, int], ...]
    parcels: dict[int, tuple[int, int]]
    elsewhere: tuple[int, int]


class _Builder:
    """Builds the model step by step."""

    def __init__(
        self, case: ShareOutCase, pairs: Pairs, layout: Layout, limits: ColumnLimits
    ) -> None:
        self.case, self.pairs, self.layout, self.before = case, pairs, layout, limits
        self.left, self.left_claim = what_is_left(case)
        self.precious = {one.id for one in case.varieties if one.must_not_be_lost}
        self.rows = layout.model.listed()
        self.model = Model()
        self.lower: list[int] = []
        self.equal: list[bool] = []
        self.single: list[tuple[int, int]] = []
        self.parts: dict[int, list[int]] = {}
        self.carried: dict[int, int] = {}

    def column(self, lower: int, upper: int) -> int:
        """Add a column between two limits."""
        self.lower.append(lower)
        return self.model.column(upper)

    def row(self, entries: list[tuple[int, int]], limit: int, *, equal: bool = False) -> None:
        """Add a row that is at most, or just, its limit."""
        self.model.row(entries, limit)
        self.equal.append(equal)

    def take_apart(self) -> None:
        """Add a column for each spare of a pool and each claim it may still go to."""
        for number, pair in enumerate(self.pairs.pairs):
            most = self.before.upper[number]
            self.parts[number] = []
            if most == 0:
                continue
            for spare in self.pairs.pools[pair.pool].spares:
                if self.left[spare] > 0:
                    self.parts[number].append(self.column(0, min(self.left[spare], most)))
                    self.single.append((spare, pair.claim))

    def carry_over(self, more: Sequence[tuple[list[tuple[int, int]], int]]) -> None:
        """Carry over the steps of the rules, the rows, and what the face has fixed."""
        first = self.pairs.count
        for number in range(first, len(self.layout.model.upper)):
            self.carried[number] = self.column(self.before.lower[number], self.before.upper[number])
        supply = {row: pool for pool, row in self.layout.supply_rows.items()}
        plain = zip(self.rows, self.layout.model.limits, strict=True)
        for row, (entries, limit) in enumerate([*plain, *more]):
            if row in supply:
                self._supply(supply[row], equal=self.before.equal[row])
            else:
                self.row(self._spread(entries), limit, equal=self.before.equal[row])
        for number in range(first):
            self._between(number)

    def _between(self, number: int) -> None:
        """Hold the parts of a column to its limits, where the face has drawn them in."""
        lower, upper = self.before.lower[number], self.before.upper[number]
        entries = [(part, 1) for part in self.parts[number]]
        if lower > 0:
            self.row([(part, -1) for part, _ in entries], -lower, equal=lower == upper)
        if max(lower, 0) < upper < self.layout.model.upper[number] and len(entries) > 1:
            self.row(entries, upper)

    def _spread(self, entries: Sequence[tuple[int, int]]) -> list[tuple[int, int]]:
        """Replace each column by its parts."""
        found: list[tuple[int, int]] = []
        for column, coefficient in entries:
            if column in self.carried:
                found.append((self.carried[column], coefficient))
            else:
                found += [(part, coefficient) for part in self.parts[column]]
        return found

    def _supply(self, pool: int, *, equal: bool) -> None:
        """Hold each spare of a pool to what it has left."""
        by_spare: defaultdict[int, list[tuple[int, int]]] = defaultdict(list)
        row = self.layout.supply_rows[pool]
        for column, _ in self.rows[row]:
            for part in self.parts[column]:
                by_spare[self.single[part][0]].append((part, 1))
        for spare in self.pairs.pools[pool].spares:
            if self.left[spare] > 0:
                self.row(by_spare[spare], self.left[spare], equal=equal)

    def count_parcels(self) -> tuple[dict[int, tuple[int, int]], tuple[int, int]]:
        """Add a column for the parcels between each two ends, and hold plants to it."""
        ends_of: defaultdict[tuple[int, int], list[int]] = defaultdict(list)
        for part, (spare, claim) in enumerate(self.single):
            ends = (self.case.spares[spare].household_id, self.case.claims[claim].place_id)
            ends_of[ends].append(part)
        stands = parcel_counts(self.case, self.case.standing)
        parcels = {}
        for ends, parts in ends_of.items():
            parcels[self._parcel(ends, parts, stands.get(ends, 0))] = ends
        postage = self.case.postage or {}
        rest = {ends: count for ends, count in stands.items() if ends not in ends_of}
        coins = sum(count * postage.get(ends, 0) for ends, count in rest.items())
        return parcels, (sum(rest.values()), coins)

    def _parcel(self, ends: tuple[int, int], parts: list[int], stands: int) -> int:
        """Add the parcels between two ends: never two plants of a must-not-be-lost variety in one."""
        alone: defaultdict[int, list[int]] = defaultdict(list)
        for part in parts:
            variety = self.case.spares[self.single[part][0]].variety_id
            if variety in self.precious:
                alone[variety].append(part)
        standing = _standing_by_variety(self.case, ends)
        most = [
            standing.get(variety, 0) + sum(self.model.upper[part] for part in those)
            for variety, those in alone.items()
        ]
        number = self.column(stands, max([1, stands, *most]))
        for variety, those in alone.items():
            entries = [(part, 1) for part in those]
            self.row([*entries, (number, -1)], -standing.get(variety, 0))
        together = {part for those in alone.values() for part in those}
        if stands == 0:
            self._share([part for part in parts if part not in together], number)
        return number

    def _share(self, parts: list[int], number: int) -> None:
        """Allow plants only where there is a parcel: by spare, and by claim over several spares."""
        of_claim: defaultdict[int, list[int]] = defaultdict(list)
        for part in parts:
            of_claim[self.single[part][1]].append(part)
        for claim, those in of_claim.items():
            asked = self.left_claim[claim]
            if len(those) > 1:
                most = min(asked, sum(self.model.upper[part] for part in those))
                self.row([*((part, 1) for part in those), (number, -most)], 0)
            if len(those) == 1 or asked > 1:
                for part in those:
                    self.row([(part, 1), (number, -self.model.upper[part])], 0)


def _standing_by_variety(case: ShareOutCase, ends: tuple[int, int]) -> dict[int, int]:
    """Count what stands between two ends, by variety."""
    counts: dict[int, int] = {}
    if not case.standing:
        return counts
    spares = {one.id: one for one in case.spares}
    places = {one.id: one.place_id for one in case.claims}
    for one in case.standing:
        spare = spares[one.spare_id]
        if (spare.household_id, places[one.claim_id]) == ends:
            counts[spare.variety_id] = counts.get(spare.variety_id, 0) + one.count
    return counts


def take_apart(
    case: ShareOutCase,
    pairs: Pairs,
    layout: Layout,
    limits: ColumnLimits,
    more: Sequence[tuple[list[tuple[int, int]], int]] = (),
) -> Sourcing:
    """Build the model of rules 5 and 6 on the face the rules before have left, with its further rows."""
    builder = _Builder(case, pairs, layout, limits)
    builder.take_apart()
    builder.carry_over(more)
    parcels, elsewhere = builder.count_parcels()
    postage = case.postage or {}
    builder.model.aims[5] = dict.fromkeys(parcels, -1)
    builder.model.aims[6] = {one: -postage.get(ends, 0) for one, ends in parcels.items()}
    found = ColumnLimits(builder.lower, list(builder.model.upper), builder.equal)
    if layout.tight:
        arrays = (np.array(one, dtype=np.int64) for one in (found.lower, found.upper, found.equal))
        tightener = Tightener(builder.model, *arrays)
        builder.model.value = tightener.tighten()
        found = ColumnLimits(tightener.lower.tolist(), tightener.upper.tolist(), builder.equal)
    return Sourcing(builder.model, found, tuple(builder.single), parcels, elsewhere)
