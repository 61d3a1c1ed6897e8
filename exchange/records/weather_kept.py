"""The weather at places as the outlooks ask for it: own climates, skills learned, nights observed."""

from collections.abc import Mapping, Sequence
from datetime import date, datetime

from sqlalchemy import delete, func, insert, select, update

from exchange.domain.weather.blend import Skill
from exchange.domain.weather.climate import Climate
from exchange.domain.weather.daily import DayRead
from exchange.domain.weather.forecast import Forecast
from exchange.records.columns import from_plain
from exchange.records.repository import touch
from exchange.records.tables import (
    DailyFileTable,
    ForecastFaultTable,
    ForecastTable,
    ObservationTable,
    PlaceSkillTable,
)
from exchange.records.transaction import Tx


def climates(tx: Tx, circle_id: int) -> dict[int, Climate]:
    """Give the climate of each place's own daily file, the last kept [place id -> climate]."""
    query = (
        select(DailyFileTable.place_id, DailyFileTable.climate)
        .where(DailyFileTable.circle_id == circle_id, DailyFileTable.kept_at.is_not(None))
        .order_by(DailyFileTable.kept_at, DailyFileTable.id)
    )
    return {
        place_id: from_plain(Climate, climate)
        for place_id, climate in tx._session.execute(query)
        if climate
    }


def skills(tx: Tx, circle_id: int) -> dict[int, Skill]:
    """Give the skill last learned for each place [place id -> skill]."""
    query = (
        select(PlaceSkillTable)
        .where(PlaceSkillTable.circle_id == circle_id)
        .order_by(PlaceSkillTable.id)
    )
    return {
        row.place_id: Skill(row.days, row.site_error_k, row.shift_k)
        for row in tx._session.scalars(query)
    }


def days_observed(tx: Tx, circle_id: int, place_id: int) -> Mapping[date, float]:
    """Give the minima known of a place, by the day on which the night ended [degrees C]."""
    query = select(ObservationTable.day, ObservationTable.minimum_c).where(
        ObservationTable.circle_id == circle_id, ObservationTable.place_id == place_id
    )
    return {row.day: row.minimum_c for row in tx._session.execute(query)}


def count_observed(tx: Tx, circle_id: int, place_id: int) -> int:
    """Say how many nights of a place are known [nights]."""
    query = select(func.count()).where(
        ObservationTable.circle_id == circle_id, ObservationTable.place_id == place_id
    )
    return tx._session.scalars(query).one()


def latest_observed(
    tx: Tx, circle_id: int, place_id: int, most: int
) -> tuple[tuple[int, date, float, bool], ...]:
    """Give the last nights known, newest first: id, day, minimum, whether a file tells it."""
    query = (
        select(
            ObservationTable.id,
            ObservationTable.day,
            ObservationTable.minimum_c,
            ObservationTable.file_id,
        )
        .where(ObservationTable.circle_id == circle_id, ObservationTable.place_id == place_id)
        .order_by(ObservationTable.day.desc())
        .limit(most)
    )
    return tuple(
        (row_id, day, low, file_id is not None)
        for row_id, day, low, file_id in tx._session.execute(query)
    )


def add_observed(
    tx: Tx, circle_id: int, place_id: int, days: Sequence[DayRead], file_id: int
) -> None:
    """Keep many days of a file at once; none of them is known yet."""
    rows = [
        {
            "circle_id": circle_id,
            "place_id": place_id,
            "day": one.day,
            "minimum_c": one.minimum_c,
            "maximum_c": one.maximum_c,
            "file_id": file_id,
        }
        for one in days
    ]
    if rows:
        tx._session.execute(insert(ObservationTable), rows)


def renew(tx: Tx, circle_id: int, forecast: Forecast) -> None:
    """Note that a forecast kept already was asked for again and still stands."""
    tx._session.execute(
        update(ForecastTable)
        .where(
            ForecastTable.circle_id == circle_id,
            ForecastTable.place_id == forecast.place_id,
            ForecastTable.source == forecast.source,
            ForecastTable.issued_at == forecast.issued_at,
        )
        .values(fetched_at=forecast.fetched_at, expires_at=forecast.expires_at)
        .execution_options(synchronize_session=False)
    )
    touch(tx, circle_id)


def thin(tx: Tx, circle_id: int, before: datetime) -> None:
    """Of days before an instant keep each place's first forecast only, and always its last.

    The first of a day is the one that is compared with what came, so nothing is lost for learning.
    """
    ids = func.min(ForecastTable.id), func.max(ForecastTable.id)
    days = (ForecastTable.place_id, func.date(ForecastTable.fetched_at))
    of_circle = ForecastTable.circle_id == circle_id
    firsts = select(ids[0]).where(of_circle).group_by(*days)
    newest = select(ids[1]).where(of_circle).group_by(ForecastTable.place_id)
    tx._session.execute(
        delete(ForecastTable)
        .where(
            of_circle,
            ForecastTable.fetched_at < before,
            ForecastTable.id.not_in(firsts),
            ForecastTable.id.not_in(newest),
        )
        .execution_options(synchronize_session=False)
    )


def forget_faults(tx: Tx, circle_id: int, before: datetime) -> None:
    """Drop what went wrong before an instant."""
    tx._session.execute(
        delete(ForecastFaultTable)
        .where(ForecastFaultTable.circle_id == circle_id, ForecastFaultTable.at < before)
        .execution_options(synchronize_session=False)
    )
