"""Where a share-out stands, and each allocation of it."""

from enum import StrEnum


class ShareOutState(StrEnum):
    """Where a share-out stands."""

    OPEN = "open"
    WORKED_OUT = "worked_out"
    CONFIRMED = "confirmed"
    CANCELLED = "cancelled"


UNCONFIRMED = frozenset({ShareOutState.OPEN, ShareOutState.WORKED_OUT})
"""States of a share-out that is still to be confirmed."""


class AllocationState(StrEnum):
    """What has been answered to an allocation."""

    CONFIRMED = "confirmed"
    AGREED = "agreed"
    REFUSED = "refused"
    DECLINED = "declined"
    FAILED = "failed"
    LOST = "lost"


STANDING = frozenset({AllocationState.CONFIRMED, AllocationState.AGREED})
"""States of an allocation whose plants are to go, or have gone."""
ANSWERED_NO = frozenset({AllocationState.REFUSED, AllocationState.DECLINED, AllocationState.FAILED})
"""States of one whose plants did not go."""
GIVEN = STANDING | {AllocationState.LOST}
"""States of one whose sender gave the plants, whether or not they came alive."""
