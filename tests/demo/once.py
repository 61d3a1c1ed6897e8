"""The demo's main job run as a command, and its plan.json beside the files it was made from."""

import csv
import json
import tomllib
from collections import Counter
from datetime import date
from functools import cache
from pathlib import Path
from typing import Any

from exchange.paths import DEMO_DATA, REFERENCE_DATA
from tests.house import run, said

TODAY = date(2027, 4, 5)
FROST_MOVED_H = 48
LIMIT, LIMIT_KEPT = 1 / 20, 1 / 50
"""Chances of loss above which a parcel waits: usually, and where a variety must not be lost."""


def run_once(folder: Path, *options: str, hash_seed: str = "0") -> str:
    """Run the demo's main job into a folder and give what it printed."""
    result = run(
        "exchange", "demo", "--once", "--out", str(folder), *options, PYTHONHASHSEED=hash_seed
    )
    assert result.returncode == 0, said(result)
    assert result.stderr == ""
    return result.stdout


def plan_in(folder: Path) -> dict[str, Any]:
    return json.loads((folder / "plan.json").read_text(encoding="utf-8"))


def later_frost(folder: Path) -> Path:
    """Write a copy of the demo's forecast with its frost two days later."""
    places = json.loads((DEMO_DATA / "forecast.json").read_text(encoding="utf-8"))
    for place in places:
        for name, values in place["hourly"].items():
            if name != "time":
                place["hourly"][name] = values[:FROST_MOVED_H] + values[:-FROST_MOVED_H]
    path = folder / "later.json"
    path.write_text(json.dumps(places), encoding="utf-8")
    return path


@cache
def rows(name: str) -> list[dict[str, str]]:
    with (DEMO_DATA / f"{name}.csv").open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


@cache
def households() -> dict[str, dict[str, Any]]:
    text = (DEMO_DATA / "households.toml").read_text(encoding="utf-8")
    return {one["name"]: one for one in tomllib.loads(text)["household"]}


@cache
def kept() -> frozenset[str]:
    """Give the varieties that must not be lost."""
    return frozenset(one["name"] for one in rows("varieties") if one["must_not_be_lost"] == "yes")


@cache
def blocked_between(sender: str, receiver: str) -> bool:
    """Say whether the packaged border rows block plants from one household to another."""
    ends = (_area(sender), _area(receiver))
    with (REFERENCE_DATA / "borders.csv").open(encoding="utf-8", newline="") as file:
        table = {
            (one["origin"], one["destination"]): one["passage"] for one in csv.DictReader(file)
        }
    return table.get(ends, table["*", "*"]) == "blocked"


def _area(household: str) -> str:
    place = households()[household]["place"][0]
    if place["subdivision"] == "NIR":
        return "NI"
    return "EU" if place["country"] == "IE" else place["country"]


def day(text: str | None) -> date | None:
    return None if text is None else date.fromisoformat(text)


def away(household: str, what: str, first: date, last: date) -> bool:
    """Say whether a household cannot post, or receive, on any of the days."""
    return any(
        one[what] and one["first"] <= last and one["last"] >= first
        for one in households()[household].get("away", ())
    )


def given_by_claim(plan: dict[str, Any]) -> Counter[int]:
    given: Counter[int] = Counter()
    for one in plan["allocations"]:
        given[one["claim"]] += one["count"]
    return given


def posted(plan: dict[str, Any]) -> list[dict[str, Any]]:
    """Give the parcels that have a day."""
    return [one for one in plan["parcels"] if one["posting_day"] is not None]


def days_by_code(plan: dict[str, Any]) -> dict[str, str | None]:
    return {one["code"]: one["posting_day"] for one in plan["parcels"]}
