"""Columns that share all their rows but the first are gathered under one further column, their sum.

Such columns fill long rows with the same numbers again and again, and the simplex method pays for each of them. With
one more column that holds their sum, only it stands in those rows. The answer and the duals of the plain programme's
rows stay what they were: the new rows only say what the new columns are.
"""

import numpy as np
from numpy.typing import NDArray

from exchange.domain.optimise.programme import Floats, Ints, Programme

LEAST_TOGETHER = 4
"""How many columns are worth gathering [columns]."""

SHORTEST = 3
"""Columns in fewer rows have nothing to gather [rows]."""

MIX = np.uint64(0x9E3779B97F4A7C15)
"""2^64 over the golden ratio, odd: multiplying by it scatters neighbouring numbers."""


def gathered(plain: Programme) -> Programme:
    """Gather columns that stand in the same rows beyond their first; plain columns and rows come first, as before."""
    count, height = len(plain.cost), len(plain.limits)
    row_of = np.repeat(np.arange(height, dtype=np.int64), np.diff(plain.starts))
    by_column = np.argsort(plain.index, kind="stable")
    lengths = np.bincount(plain.index, minlength=count)
    first = np.concatenate(([0], np.cumsum(lengths)))[:-1]
    group = _alike(row_of[by_column], plain.value[by_column], first, lengths)
    within = np.flatnonzero(group >= 0)
    if len(within) == 0:
        return plain
    groups = int(group.max()) + 1
    one = np.zeros(groups, dtype=np.int64)
    one[group[within]] = within
    sums = count + np.arange(groups, dtype=np.int64)

    stays = group[plain.index] < 0
    stays[by_column[first[within]]] = True
    of_one = _entries(first[one] + 1, lengths[one] - 1)
    means = np.repeat(sums, lengths[one] - 1)
    row = np.concatenate((row_of[stays], row_of[by_column][of_one], height + group[within]))
    row = np.concatenate((row, height + np.arange(groups)))
    index = np.concatenate((plain.index[stays], means, within, sums))
    value = np.concatenate(
        (plain.value[stays], plain.value[by_column][of_one], np.ones(len(within)), -np.ones(groups))
    )
    order = np.argsort(row, kind="stable")
    ends = np.cumsum(np.bincount(row, minlength=height + groups))
    return Programme(
        cost=np.concatenate((plain.cost, np.zeros(groups))),
        lower=np.concatenate((plain.lower, _summed(plain.lower, group, groups))),
        upper=np.concatenate((plain.upper, _summed(plain.upper, group, groups))),
        starts=np.concatenate(([0], ends)).astype(np.int64),
        index=index[order],
        value=value[order],
        limits=np.concatenate((plain.limits, np.zeros(groups))),
        equal=np.concatenate((plain.equal, np.ones(groups, dtype=bool))),
    )


def _alike(row: Ints, value: Floats, first: Ints, lengths: Ints) -> Ints:
    """Give columns alike beyond their first row the same number, -1 where too few are."""
    group = np.full(len(lengths), -1, dtype=np.int64)
    columns = np.flatnonzero(lengths >= SHORTEST)
    if len(columns) == 0:
        return group
    # Columns alike have the same sum; those that only share the sum are told apart below.
    ends = np.stack([first + 1, first + lengths], axis=1)[columns].ravel()
    sums = np.add.reduceat(np.append(_mixed(row, value), MIX), ends)[::2]
    _, leader, number, together = np.unique(
        sums, return_index=True, return_inverse=True, return_counts=True
    )
    enough = together[number] >= LEAST_TOGETHER
    columns, leads, number = columns[enough], columns[leader[number[enough]]], number[enough]
    tails = lengths[columns] - 1
    here, there = _entries(first[columns] + 1, tails), _entries(first[leads] + 1, tails)
    there = np.minimum(there, len(row) - 1)
    differs = (row[here] != row[there]) | (value[here] != value[there])
    apart = lengths[columns] != lengths[leads]
    apart[np.repeat(np.arange(len(columns)), tails)[differs]] = True
    _, group[columns[~apart]] = np.unique(number[~apart], return_inverse=True)
    return group


def _mixed(row: Ints, value: Floats) -> NDArray[np.uint64]:
    """Give each entry a hash that hardly any sum of other entries' hashes equals by chance."""
    mixed = (row.astype(np.uint64) << np.uint64(20)) + value.view(np.uint64) * MIX
    mixed = (mixed ^ (mixed >> np.uint64(29))) * MIX
    return np.asarray(mixed ^ (mixed >> np.uint64(32)), dtype=np.uint64)


def _entries(first: Ints, lengths: Ints) -> Ints:
    """Give the numbers of consecutive entries: from each first, so many."""
    before = np.concatenate(([0], np.cumsum(lengths)))[:-1]
    return np.arange(int(lengths.sum()), dtype=np.int64) + np.repeat(first - before, lengths)


def _summed(what: Floats, group: Ints, groups: int) -> Floats:
    """Add up a number of each column by group."""
    within = group >= 0
    return np.bincount(group[within], weights=what[within], minlength=groups).astype(np.float64)
