"""One measured figure beside what it is measured against."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Figure:
    """A measurement of ours, the one it stands against, and how far their ratio may go.

    ``ratio`` is ours over against. It may not exceed ``limit``; where more is better
    (``more_is_better``), it may not fall below it.
    """

    name: str
    ours: float
    against: float
    limit: float
    unit: str = "s"
    more_is_better: bool = False

    @property
    def ratio(self) -> float:
        if self.against == 0:
            return 1.0 if self.ours == 0 else float("inf")
        return self.ours / self.against

    @property
    def passes(self) -> bool:
        return self.ratio >= self.limit if self.more_is_better else self.ratio <= self.limit

    @property
    def line(self) -> str:
        """Name, ours, against, ratio, limit and whether it passes, on one line."""
        sign = ">=" if self.more_is_better else "<="
        return (
            f"{self.name:<48} ours {self.ours:>10.4g} {self.unit}"
            f"  against {self.against:>10.4g} {self.unit}  ratio {self.ratio:>7.3f}"
            f"  limit {sign} {self.limit:<6g} {'pass' if self.passes else 'FAIL'}"
        )
