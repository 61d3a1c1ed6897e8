"""Forecasts as they were fetched, kept as evidence for the plan."""

from collections.abc import Collection
from datetime import UTC, datetime
from typing import Any

from sqlalchemy import delete, func, select

from exchange.domain.weather.forecast import Forecast, Reading
from exchange.records.repository import touch
from exchange.records.tables import ForecastTable
from exchange.records.transaction import Tx

_HEAD = (
    "place_id",
    "source",
    "issued_at",
    "fetched_at",
    "expires_at",
    "attribution",
    "grid_height_m",
    "grid_km",
    "lacks",
)
_COLUMNS = ("temperature_c", "dew_point_c", "wind_ms", "cloud_pct", "member")


def add(tx: Tx, circle_id: int, forecast: Forecast) -> int:
    row = ForecastTable(
        circle_id=circle_id,
        place_id=forecast.place_id,
        source=forecast.source,
        issued_at=forecast.issued_at,
        fetched_at=forecast.fetched_at,
        expires_at=forecast.expires_at,
        attribution=forecast.attribution,
        grid_height_m=forecast.grid_height_m,
        grid_km=forecast.grid_km,
        readings=_pack(forecast.readings) | {"members": forecast.members},
        lacks=list(forecast.lacks),
    )
    tx._session.add(row)
    tx._session.flush()
    touch(tx, circle_id)
    return row.id


def latest(tx: Tx, circle_id: int, place_ids: Collection[int] | None = None) -> dict[int, Forecast]:
    """Give the last fetched forecast of each place, or of those asked for [place id -> forecast]."""
    newest_first = (
        func.row_number()
        .over(
            partition_by=ForecastTable.place_id,
            order_by=(ForecastTable.fetched_at.desc(), ForecastTable.id.desc()),
        )
        .label("age")
    )
    aged = select(ForecastTable.id, newest_first).where(ForecastTable.circle_id == circle_id)
    if place_ids is not None:
        aged = aged.where(ForecastTable.place_id.in_(place_ids))
    ages = aged.subquery()
    query = select(ForecastTable).join(ages, ages.c.id == ForecastTable.id).where(ages.c.age == 1)
    return {row.place_id: _read(row) for row in tx._session.scalars(query)}


def latest_heads(tx: Tx, circle_id: int) -> dict[int, Forecast]:
    """Give the last forecast of each place without its readings, to tell source and age."""
    newest = (
        select(ForecastTable.place_id, func.max(ForecastTable.fetched_at).label("at"))
        .where(ForecastTable.circle_id == circle_id)
        .group_by(ForecastTable.place_id)
        .subquery()
    )
    query = (
        select(*(getattr(ForecastTable, name) for name in _HEAD))
        .join(
            newest,
            (newest.c.place_id == ForecastTable.place_id)
            & (newest.c.at == ForecastTable.fetched_at),
        )
        .where(ForecastTable.circle_id == circle_id)
    )
    heads = {}
    for row in tx._session.execute(query).mappings():
        columns = {**row, "lacks": tuple(row["lacks"]), "readings": ()}
        heads[row["place_id"]] = Forecast(**columns)
    return heads


def kept(tx: Tx, circle_id: int, place_id: int) -> tuple[Forecast, ...]:
    """Give every forecast kept for a place, oldest first."""
    query = (
        select(ForecastTable)
        .where(ForecastTable.circle_id == circle_id, ForecastTable.place_id == place_id)
        .order_by(ForecastTable.fetched_at, ForecastTable.id)
    )
    return tuple(_read(row) for row in tx._session.scalars(query))


def grid_height(tx: Tx, circle_id: int, place_id: int) -> float | None:
    """Give the height the last forecast for a place was made for, where its source told it [m]."""
    query = (
        select(ForecastTable.grid_height_m)
        .where(
            ForecastTable.circle_id == circle_id,
            ForecastTable.place_id == place_id,
            ForecastTable.grid_height_m.is_not(None),
        )
        .order_by(ForecastTable.fetched_at.desc(), ForecastTable.id.desc())
        .limit(1)
    )
    return tx._session.scalars(query).one_or_none()


def forget(tx: Tx, circle_id: int, before: datetime) -> int:
    """Drop forecasts fetched before an instant; say how many."""
    gone = tx._session.execute(
        delete(ForecastTable)
        .where(ForecastTable.circle_id == circle_id, ForecastTable.fetched_at < before)
        .returning(ForecastTable.id)
        .execution_options(synchronize_session=False)
    )
    return len(gone.all())


def _pack(readings: tuple[Reading, ...]) -> dict[str, Any]:
    packed: dict[str, Any] = {"at": [int(one.at.timestamp()) for one in readings]}
    for name in _COLUMNS:
        packed[name] = [getattr(one, name) for one in readings]
    return packed


def _read(row: ForecastTable) -> Forecast:
    packed = row.readings
    readings = tuple(
        Reading(datetime.fromtimestamp(seconds, UTC), *rest)
        for seconds, *rest in zip(packed["at"], *(packed[name] for name in _COLUMNS), strict=True)
    )
    return Forecast(
        place_id=row.place_id,
        source=row.source,
        issued_at=row.issued_at,
        fetched_at=row.fetched_at,
        expires_at=row.expires_at,
        attribution=row.attribution,
        readings=readings,
        grid_height_m=row.grid_height_m,
        grid_km=row.grid_km,
        lacks=tuple(row.lacks),
        members=packed.get("members", 0),  # earlier versions did not keep it
    )
