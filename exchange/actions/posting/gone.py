"""Which parcels have gone, and when."""

from datetime import date

from exchange.domain.posting.parcel import ENDED, ParcelState
from exchange.records.rows.posting import ParcelRow

GONE = ENDED | {ParcelState.POSTED}


def day_gone(one: ParcelRow, today: date) -> date | None:
    """Give the day a parcel went on, or was to go if that is over; None where it has not gone."""
    if one.state in GONE:
        return one.posted_on or one.posting_day or one.arrived_on
    probably = one.state is ParcelState.ANNOUNCED and one.posting_day is not None
    return one.posting_day if probably and (one.posting_day or today) < today else None
