"""When a sender is told to pack or to wait, and when silence means that a parcel has gone."""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import date, datetime, time, timedelta
from enum import StrEnum

from exchange.domain.posting.parcel import Parcel, ParcelState

MORNING_HOUR, NOON_HOUR, EVENING_HOUR = 7, 12, 18
"""Hours of the sender's day at which they are told [h]: on the day; the day before; the day before,
only where something changed."""

ROUND_HOURS = (MORNING_HOUR, NOON_HOUR, EVENING_HOUR)


class Round(StrEnum):
    """One of the three times at which senders are told to pack or to wait."""

    NOON = "noon"
    EVENING = "evening"
    MORNING = "morning"


@dataclass(frozen=True, slots=True)
class Notice:
    """What senders are told at one moment.

    Attributes
    ----------
    day : the posting day it is about
    """

    round: Round
    day: date


def telling_at(local_now: datetime) -> Notice:
    """Give the round a moment of the sender's day belongs to; before seven the evening's still holds."""
    today, tomorrow = local_now.date(), local_now.date() + timedelta(days=1)
    if local_now.hour >= EVENING_HOUR:
        return Notice(Round.EVENING, tomorrow)
    if local_now.hour >= NOON_HOUR:
        return Notice(Round.NOON, tomorrow)
    if local_now.hour >= MORNING_HOUR:
        return Notice(Round.MORNING, today)
    return Notice(Round.EVENING, today)


def just_struck(local_now: datetime, hours: Iterable[int], within: timedelta) -> bool:
    """Say whether one of the hours of the day came no longer ago than that."""
    midnights = (local_now.date(), local_now.date() - timedelta(days=1))
    struck = (
        datetime.combine(day, time(hour), local_now.tzinfo) for day in midnights for hour in hours
    )
    return any(timedelta(0) <= local_now - moment < within for moment in struck)


def probably_gone(parcel: Parcel, local_now: datetime, cut_off: time) -> Parcel:
    """Give an announced parcel as posted once its day's post has closed and nobody said otherwise.

    Nothing is learnt from it: its day is the announced one, and only the plan takes it for gone.

    Parameters
    ----------
    local_now : in the sender's zone
    cut_off : when the post of its way closes
    """
    day = parcel.announced_day
    if parcel.state is not ParcelState.ANNOUNCED or day is None:
        return parcel
    closed = local_now.date() > day or (local_now.date() == day and local_now.time() > cut_off)
    return replace(parcel, state=ParcelState.POSTED, posted_on=day) if closed else parcel
