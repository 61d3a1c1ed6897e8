"""The proof of one rule's value: dual numbers, as plain values."""

from dataclasses import dataclass, field
from typing import Any

from exchange.domain.optimise.branch import Leaf


@dataclass(frozen=True, slots=True)
class Proof:
    """What is known of one rule's value.

    Attributes
    ----------
    value, bound : what was reached and what could not be bettered; None when the rule is skipped
    by_duals : whether the leaves prove the bound by arithmetic alone
    leaves : of the tree of branches, as plain values
    held : rules before this one that are held by a row instead of a face
    """

    value: int | None
    bound: int | None
    by_duals: bool
    leaves: list[dict[str, Any]] = field(default_factory=list)
    held: tuple[str, ...] = ()


SKIPPED = Proof(None, None, by_duals=False)


def leaf_values(leaf: Leaf) -> dict[str, Any]:
    """Give a leaf as plain values; rows without a dual are left out."""
    return {
        "path": [list(step) for step in leaf.path],
        "scale": leaf.scale,
        "duals": [[row, dual] for row, dual in enumerate(leaf.duals.tolist()) if dual],
    }
