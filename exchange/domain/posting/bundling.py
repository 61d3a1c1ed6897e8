"""Whether two parcels between the same ends may become one."""

from collections import Counter
from collections.abc import Sequence
from enum import StrEnum

from exchange.domain.growing.batch import Material
from exchange.domain.posting.parcel import Line, Parcel


class Apart(StrEnum):
    """Why two parcels stay apart."""

    ENDS = "ends"
    DAMP = "damp"
    WINDOWS = "windows"
    TWICE = "twice"
    TOLD = "told"


def why_apart(first: Parcel, second: Parcel) -> Apart | None:
    """Say why the second parcel cannot go in with the first; None where it can.

    An announced day stands: where the second's has been told, the first must go that day too.
    """
    if _ends(first) != _ends(second):
        return Apart.ENDS
    if _damp(first.lines) != _damp(second.lines):
        return Apart.DAMP
    lines = (*first.lines, *second.lines)
    if max(one.ready_from for one in lines) > min(one.send_by for one in lines):
        return Apart.WINDOWS
    held = Counter(one.variety_id for one in lines if one.must_not_be_lost)
    if any(count > 1 for count in held.values()):
        return Apart.TWICE
    told = second.announced_day
    return Apart.TOLD if told is not None and told != first.announced_day else None


def _ends(parcel: Parcel) -> tuple[int, ...]:
    return (
        parcel.sender_household_id,
        parcel.sender_place_id,
        parcel.receiver_household_id,
        parcel.receiver_place_id,
        parcel.posted_by,
    )


def _damp(lines: Sequence[Line]) -> bool:
    return any(one.material is Material.UNROOTED for one in lines)
