"""What a share-out comes to."""

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction
from typing import Any

from exchange.domain.sharing.case import Allocation
from exchange.domain.sharing.reason import ClaimReason

NAMES = (
    "must not be lost",
    "one each",
    "fair",
    "wishes",
    "fewest parcels",
    "postage",
)
"""The rules' names in their order."""

SMALL_CIRCLE = 60
"""Up to so many households rules 5 and 6, and with them the draw, have to be shown by duals, which are too long in larger ones [households]."""


class Status(StrEnum):
    """How sure a rule's value is."""

    PROVEN = "proven"
    WITHIN = "within"
    SOLVER_SAYS = "as the solver says"
    SKIPPED = "skipped"


@dataclass(frozen=True, slots=True)
class RuleProof:
    """What is known of one rule.

    Attributes
    ----------
    number : of the rule, 1 to 6
    beyond : whether of the second pass, in which the most of a contested variety holds no longer
    value : what the share-out reaches; rule 1 in millionths of a variety, 5 in parcels, 6 in the smallest coin
    bound : what no share-out could better; equal to value when proven
    """

    number: int
    value: int | None
    bound: int | None
    status: Status
    beyond: bool = False

    @property
    def name(self) -> str:
        """Give the rule's name."""
        return NAMES[self.number - 1]

    @property
    def words(self) -> str:
        """Say how sure the value is: proven, within x %, as the solver says, or skipped."""
        if self.status is not Status.WITHIN:
            return self.status.value
        return f"within {within_percent(self.value or 0, self.bound or 0)} %"


def within_percent(value: int, bound: int) -> str:
    """Say how far a value can be from the best, rounded up to a tenth [%]."""
    gap = Fraction(abs(bound - value) * 1000, max(abs(value), abs(bound), 1))
    tenths = -(-gap.numerator // gap.denominator)
    return f"{tenths // 10}.{tenths % 10}"


@dataclass(frozen=True, slots=True)
class ShareOut:
    """What a share-out comes to.

    Attributes
    ----------
    allocations : by spare, then claim; those that stood before included
    rules : verdicts of rules 1 to 6, and of the same again where there was a second pass
    reasons : by claim id, one for every claim
    working : plain values (for JSON) from which the checker can prove the result
    """

    allocations: tuple[Allocation, ...]
    rules: tuple[RuleProof, ...]
    reasons: Mapping[int, ClaimReason]
    working: dict[str, Any]

    @property
    def first(self) -> tuple[Allocation, ...]:
        """Give what the first pass gave."""
        return tuple(Allocation(*one) for one in self.working["allocations"])
