"""What became of a posting day that had been announced to members."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from exchange.domain.posting.options import Option
from exchange.domain.posting.parcel import Parcel
from exchange.domain.posting.reasons import DayWord, Stop


@dataclass(frozen=True, slots=True)
class Moved:
    """An announced day that no longer stands.

    Attributes
    ----------
    to_day : the new day, None where the parcel waits
    stop : the hard stop or weather that forbids the old day, None where it moved for a gain
    old_loss, new_loss : chance of loss on the old and the new day, None where unknown
    gain : plants gained by this parcel's move; below zero where it gave way to others [plants]
    """

    from_day: date
    to_day: date | None
    stop: Stop | None
    old_loss: float | None
    new_loss: float | None
    gain: float | None


def moved(parcel: Parcel, options: Sequence[Option], chosen: Option | None) -> Moved | None:
    """Compare the chosen day with the announced one; None where the day stands or none was told."""
    told = parcel.announced_day
    if told is None or (chosen is not None and chosen.day == told):
        return None
    old, to_day = _announced(parcel, options), chosen.day if chosen else None
    new_loss = chosen.loss if chosen else None
    if old is None or math.isnan(old.loss):
        gone = bool(options) and told < options[0].day
        stop = old.stop if old else Stop(DayWord.PAST) if gone else None
        return Moved(told, to_day, stop, None, new_loss, None)
    gain = old.lost - chosen.lost if chosen else None
    return Moved(told, to_day, old.stop, old.loss, new_loss, gain)


def _announced(parcel: Parcel, options: Sequence[Option]) -> Option | None:
    same = [one for one in options if one.day == parcel.announced_day]
    by_way = [one for one in same if one.way.id == parcel.announced_way_id]
    return next(iter(by_way or same), None)
