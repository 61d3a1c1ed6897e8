"""The proof of one rule's value: dual numbers, as plain values."""

from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import Any

import numpy as np

from exchange.domain.optimise.branch import Leaf


@dataclass(frozen=True, slots=True)
class Proof:
    """What is known of one rule's value.

    Attributes
    ----------
    value, bound : what was reached and what could not be bettered; None when the rule is skipped
    by_duals : whether the trees prove the bound by arithmetic alone
    trees : the leaves of a tree of branches for each region, as plain values; None for a region left aside
    hold : how rule 1 is held in what follows
    """

    value: int | None
    bound: int | None
    by_duals: bool
    trees: list[list[dict[str, Any]] | None] = field(default_factory=list)
    hold: str = "touch"


SKIPPED = Proof(None, None, by_duals=False)


def leaf_values(leaf: Leaf) -> dict[str, Any]:
    """Give a leaf as plain values; rows without a dual are left out."""
    rows = np.flatnonzero(leaf.duals)
    return {
        "path": [list(step) for step in leaf.path],
        "scale": leaf.scale,
        "duals": np.stack([rows, leaf.duals[rows]], axis=1).tolist(),
    }


def tree_values(leaves: Iterable[Leaf]) -> list[dict[str, Any]]:
    """Give the leaves of one tree as plain values."""
    return [leaf_values(leaf) for leaf in leaves]
