"""The share-out and the plan as tables to be read on a terminal."""

from collections import Counter
from collections.abc import Mapping
from datetime import date
from typing import Any

from exchange.words.kernel import dates
from exchange.words.kernel.chances import in_hundred
from exchange.words.kernel.phrase import counted
from exchange.words.kernel.terminal import table
from exchange.words.posting.posting_days import about_week

Row = Mapping[str, Any]


def share_out_tables(season: Row) -> str:
    """Give the rules, what was given, and every claim not met with its reason."""
    spares = {one["id"]: one for one in season["spares"]}
    claims = {one["id"]: one for one in season["claims"]}
    rules = [
        (
            f"{number % 6 + 1}{' again' if number >= 6 else ''}",
            rule["name"],
            _figure(rule["value"]),
            _figure(rule["bound"]),
            rule["status"],
        )
        for number, rule in enumerate(season["rules"])
    ]
    given = [
        (
            spares[one["spare"]]["variety"],
            str(one["count"]),
            spares[one["spare"]]["household"],
            claims[one["claim"]]["household"],
        )
        for one in season["allocations"]
    ]
    unmet = [
        (one["household"], one["variety"], f"{one['given']} / {one['asked']}", one["reason"])
        for one in season["claims"]
        if not one["met"]
    ]
    return "\n\n".join(
        [
            "THE SHARE-OUT",
            table(("Rule", "Name", "Value", "Bound", "How sure"), rules),
            table(("Variety", "Plants", "From", "To"), sorted(given)),
            "Claims not met in full, and why",
            table(("Household", "Variety", "Given", "Why"), unmet),
        ]
    )


def plan_table(season: Row, sources: Mapping[str, str]) -> str:
    """Give every parcel with its day, its chance of loss and the reasons.

    Parameters
    ----------
    sources : words for where the weather behind a day comes from
    """
    rows = [
        (
            one["code"],
            one["sender"],
            one["receiver"],
            _when(one),
            "" if one["loss_chance"] is None else in_hundred(one["loss_chance"]),
        )
        for one in season["parcels"]
    ]
    notes = [
        " ".join((f"{_contents(one)}.", *one["reasons"], f"({sources[one['weather_source']]})"))
        for one in season["parcels"]
    ]
    heads = ("Parcel", "From", "To", "When", "Loss")
    return "\n\n".join(["THE PLAN", table(heads, rows, notes)])


def _figure(value: int | None) -> str:
    return "" if value is None else str(value)


def _contents(parcel: Row) -> str:
    return ", ".join(f"{line['count']} {line['variety']}" for line in parcel["lines"])


def _when(parcel: Row) -> str:
    if parcel["posting_day"] is None:
        return str(parcel["state"])
    planned = date.fromisoformat(parcel["posting_day"])
    if not parcel["announced"]:
        return "{week} by {way}".format(week=about_week(planned), way=parcel["way"])
    day = dates.day(planned)
    first, last = (date.fromisoformat(parcel[name]) for name in ("arrival_from", "arrival_to"))
    return "{day} by {way}, comes {days}".format(
        day=day, way=parcel["way"], days=dates.span(first, last)
    )


def summary(season: Row) -> str:
    """Give one line that sums the season up."""
    met = sum(one["met"] for one in season["claims"])
    states = Counter(one["state"] for one in season["parcels"])
    return (
        "{met} of {claims} met; {planned} of {parcels} have a posting day"
        " (not ready: {not_ready}, waiting for weather: {waiting}, no way: {no_way})."
    ).format(
        met=met,
        claims=counted(len(season["claims"]), "claim", "claims"),
        planned=states["planned"],
        parcels=counted(len(season["parcels"]), "parcel", "parcels"),
        not_ready=states["not ready"],
        waiting=states["waits for weather"],
        no_way=states["no way"],
    )
