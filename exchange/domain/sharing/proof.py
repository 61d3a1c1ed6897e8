"""The proof of one rule's value: dual numbers, as plain values."""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

import numpy as np

from exchange.domain.optimise.branch import Leaf


@dataclass(frozen=True, slots=True)
class Proof:
    """What is known of one rule's value.

    Attributes
    ----------
    value, bound : what was reached and what could not be bettered; None when the rule is skipped
    by_duals : whether the tree proves the bound by arithmetic alone
    tree : the leaves of the tree of branches, as plain values; None where no duals were kept
    """

    value: int | None
    bound: int | None
    by_duals: bool
    tree: list[dict[str, Any]] | None = None


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
