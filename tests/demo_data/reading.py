"""The demo circle's files, read plainly."""

import csv
import json
import math
import tomllib
from datetime import date
from functools import cache
from pathlib import Path
from typing import Any

from exchange.paths import DEMO_DATA, REFERENCE_DATA

TODAY = date(2027, 4, 5)
USUAL = {"rooted", "young_plant", "pot_tuber", "division"}


@cache
def table(name: str, folder: Path = DEMO_DATA) -> list[dict[str, str]]:
    with (folder / name).open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def circle() -> dict[str, Any]:
    return tomllib.loads((DEMO_DATA / "circle.toml").read_text(encoding="utf-8"))


@cache
def households() -> dict[str, dict[str, Any]]:
    text = (DEMO_DATA / "households.toml").read_text(encoding="utf-8")
    return {row["name"]: row for row in tomllib.loads(text)["household"]}


def places() -> list[dict[str, Any]]:
    return [place for household in households().values() for place in household["place"]]


def members() -> list[dict[str, Any]]:
    return [member for household in households().values() for member in household["member"]]


@cache
def forecast() -> list[dict[str, Any]]:
    answer = json.loads((DEMO_DATA / "forecast.json").read_text(encoding="utf-8"))
    assert isinstance(answer, list)
    return answer


def position(place: dict[str, Any]) -> tuple[float, float]:
    """Where the gazetteer puts the town; fails unless exactly one row fits."""
    return _position(place["town"], place["country"], place["county"])


@cache
def _position(town: str, country: str, county: str) -> tuple[float, float]:
    rows = [
        row
        for row in table("gazetteer_gb_ie_nl.csv", REFERENCE_DATA)
        if (row["name"], row["country"], row["county"]) == (town, country, county)
    ]
    assert len(rows) == 1, town
    return float(rows[0]["lat"]), float(rows[0]["lon"])


def km_between(one: tuple[float, float], other: tuple[float, float]) -> float:
    lat_one, lon_one, lat_other, lon_other = map(math.radians, (*one, *other))
    half = math.sin((lat_other - lat_one) / 2) ** 2
    half += math.cos(lat_one) * math.cos(lat_other) * math.sin((lon_other - lon_one) / 2) ** 2
    return 2 * 6371 * math.asin(math.sqrt(half))


def april_station(place: dict[str, Any]) -> tuple[float, dict[str, str]]:
    """The nearest station's April row and how far it is [km]."""
    here = position(place)
    rows = [r for r in table("station_normals.csv", REFERENCE_DATA) if r["month"] == "4"]
    away, row = min(
        ((km_between(here, (float(r["lat"]), float(r["lon"]))), r) for r in rows),
        key=lambda pair: pair[0],
    )
    return away, row
