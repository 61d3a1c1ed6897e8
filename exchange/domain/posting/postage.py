"""Postage added up: what was paid, and what of it was paid back. A plant has no price here."""

from collections.abc import Iterable
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class PostageTotal:
    """Postage of some parcels.

    Attributes
    ----------
    parcels : that were posted [parcels]
    told : of which it was said what they cost [parcels]
    paid, repaid : in all, and what of that was paid back [smallest coin]
    """

    parcels: int = 0
    told: int = 0
    paid: int = 0
    repaid: int = 0

    @property
    def open(self) -> int:
        """What has still to be paid back [smallest coin]."""
        return self.paid - self.repaid


def postage_total(parcels: Iterable[tuple[int | None, bool]]) -> PostageTotal:
    """Add up parcels that were posted.

    Parameters
    ----------
    parcels : what each cost, None where that was not said, and whether it was paid back [smallest coin]
    """
    posted = list(parcels)
    told = [(cost, back) for cost, back in posted if cost is not None]
    return PostageTotal(
        len(posted),
        len(told),
        sum(cost for cost, _back in told),
        sum(cost for cost, back in told if back),
    )
