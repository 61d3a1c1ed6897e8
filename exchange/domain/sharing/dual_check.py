"""What dual numbers prove, in whole numbers and without any solver.

Weak duality: whatever the duals, limits x duals plus each column's best share of its reduced cost is a bound on the
aim. When the bound meets the value, complementary slackness says where all other best answers lie.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from exchange.domain.sharing.sourcing import ColumnLimits


class WorkingFault(ValueError):
    """A line of the working does not hold; the sentence says which."""


@dataclass(slots=True)
class Ledger:
    """Rows and columns with what is known of them so far."""

    rows: list[list[tuple[int, int]]]
    limits: list[int]
    lower: list[int]
    upper: list[int]
    equal: list[bool]

    def hold(self, entries: list[tuple[int, int]], limit: int) -> None:
        """Add a row that holds what a rule has reached."""
        self.rows = [*self.rows, entries]
        self.limits = [*self.limits, limit]
        self.equal.append(False)

    def after(self, path: Sequence[Sequence[Any]], proof: "LeafBound", gap: int) -> "Ledger":
        """Give the answers at the end of a path whose value lies within the gap of the bound."""
        lower, upper = _walked(self, path)
        found = Ledger(self.rows, self.limits, list(lower), list(upper), list(self.equal))
        found.narrow(proof, gap)
        return found

    def face(self) -> ColumnLimits:
        """Give the limits that rules 5 and 6 start from."""
        return ColumnLimits(list(self.lower), list(self.upper), list(self.equal))

    def narrow(self, proof: "LeafBound", gap: int) -> None:
        """Keep the answers whose value lies within the gap of the bound."""
        for column, reduced in enumerate(proof.reduced):
            if reduced > gap:
                self.lower[column] = self.upper[column]
            elif reduced < -gap:
                self.upper[column] = self.lower[column]
        for row, dual in proof.duals.items():
            if abs(dual) > gap:
                self.equal[row] = True


@dataclass(frozen=True, slots=True)
class LeafBound:
    """What one leaf proves: a bound in parts of 1/scale, and the reduced costs behind it."""

    total: int
    scale: int
    reduced: list[int]
    duals: Mapping[int, int]


def whole(value: object, what: str) -> int:
    """Give a whole number.

    Raises
    ------
    WorkingFault
        when it is anything else
    """
    if not isinstance(value, int) or isinstance(value, bool):
        raise WorkingFault(f"{what} is not a whole number")
    return value


def leaf_bound(ledger: Ledger, leaf: Mapping[str, Any], cost: Mapping[int, int]) -> LeafBound:
    """Work out what a leaf's duals prove for a cost (column -> coefficient).

    Raises
    ------
    WorkingFault
        when a dual is not allowed
    """
    scale = whole(leaf["scale"], "a scale")
    if scale < 1:
        raise WorkingFault("a scale is below one")
    duals = _duals(ledger, leaf)
    lower, upper = _walked(ledger, leaf["path"])
    reduced = [0] * len(upper)
    for column, coefficient in cost.items():
        reduced[column] = coefficient * scale
    total = 0
    for row, dual in duals.items():
        total += dual * ledger.limits[row]
        for column, coefficient in ledger.rows[row]:
            reduced[column] -= dual * coefficient
    for column, rest in enumerate(reduced):
        if rest:
            total += rest * (upper[column] if rest > 0 else lower[column])
    return LeafBound(total, scale, reduced, duals)


def _duals(ledger: Ledger, leaf: Mapping[str, Any]) -> dict[int, int]:
    """Read a leaf's duals: at most one for each row, none negative unless its row must be full."""
    duals: dict[int, int] = {}
    for row, dual in leaf["duals"]:
        number = whole(row, "a row")
        if not 0 <= number < len(ledger.rows) or number in duals:
            raise WorkingFault(f"there is no row {number} for a dual, or it has two")
        duals[number] = whole(dual, f"the dual of row {number}")
        if duals[number] < 0 and not ledger.equal[number]:
            raise WorkingFault(f"the dual of row {number} is negative")
    return duals


def _walked(ledger: Ledger, path: Sequence[Sequence[Any]]) -> tuple[list[int], list[int]]:
    """Narrow the columns by the branches that lead to a leaf."""
    if not path:
        return ledger.lower, ledger.upper
    lower, upper = list(ledger.lower), list(ledger.upper)
    for column, side, number in path:
        place, held = whole(column, "a column"), whole(number, "a branch")
        if not 0 <= place < len(upper) or side not in ("most", "least"):
            raise WorkingFault(f"there is no branch on column {place}")
        if side == "most":
            upper[place] = min(upper[place], held)
        else:
            lower[place] = max(lower[place], held)
    return lower, upper


def check_tree(paths: Sequence[Sequence[Sequence[Any]]]) -> None:
    """Check that the leaves together cover every answer.

    Raises
    ------
    WorkingFault
        when some answer lies in no leaf
    """
    if any(not path for path in paths):
        return
    if not paths:
        raise WorkingFault("a branch has no leaf")
    column, side, number = paths[0][0]
    border = whole(number, "a branch") if side == "most" else whole(number, "a branch") - 1
    below = [path[1:] for path in paths if list(path[0]) == [column, "most", border]]
    above = [path[1:] for path in paths if list(path[0]) == [column, "least", border + 1]]
    if len(below) + len(above) != len(paths):
        raise WorkingFault("the branches do not fit together")
    check_tree(below)
    check_tree(above)
