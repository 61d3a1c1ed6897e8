"""The season report in words, on its page and as text for the group mail."""

from collections.abc import Sequence
from datetime import date

from exchange.domain.arriving.season_tally import Tally
from exchange.domain.circle.circle_season import CircleSeason
from exchange.domain.growing.variety import Species
from exchange.words.growing import plants
from exchange.words.kernel import dates
from exchange.words.kernel.chances import in_hundred
from exchange.words.kernel.phrase import NBSP, counted

NOT_KNOWN = "not known"
FEW = 5
"""Of fewer parcels the share alive is not said in a hundred: one plant more or less would turn it."""


def title(season: CircleSeason) -> str:
    """Give "The season 2026 to 2027"."""
    return f"The season {season.year} to {season.year + 1}"


def lead(total: Tally) -> str:
    """Say in one or two sentences how it went."""
    if not total.parcels:
        return "No parcel has gone yet in this season."
    went = f"{counted(total.parcels, 'parcel', 'parcels')} went"
    if not total.heard:
        return f"{went}. Nothing has been heard of how any came."
    return f"{went}, and {alive(total)}; {heard(total)}."


def alive(one: Tally) -> str:
    """Give "of 154 plants 145 came alive"."""
    return f"of {counted(one.plants, 'plant', 'plants')} {one.alive} came alive"


def heard(one: Tally) -> str:
    """Give "heard from 48 of 60"."""
    return f"heard from {one.heard} of {one.parcels}"


def share(one: Tally) -> str:
    """Give "145 of 154, 94 in 100; heard from 52 of 63"; the share only of some, and of enough."""
    if not one.heard:
        return heard(one)
    said = f"{one.alive} of {one.plants}"
    if one.heard >= FEW and 0 < one.alive < one.plants:
        said += f", {in_hundred(one.alive / one.plants)}"
    return f"{said}; {heard(one)}"


def parcels(total: Tally, by_hand: int) -> str:
    """Give "57 posted, 6 by hand; heard from 52 of 63"."""
    posted = f"{total.parcels - by_hand} posted"
    return (
        f"{posted}, {by_hand} by hand; {heard(total)}" if by_hand else f"{posted}; {heard(total)}"
    )


def survival(living: int, came: int) -> str:
    """Give "139 of the 145 that came alive live, as last counted"."""
    return f"{living} of the {came} that came alive live, as last counted"


def claims(made: int, met: int, part: int) -> str:
    """Give "157 made: 72 in full, 9 in part"."""
    return f"{made} made: {met} in full, {part} in part" if made else "none made"


def people(members: int, households: int, joined: int) -> str:
    """Give "20 in 18 households, 1 new"."""
    said = f"{members} in {counted(households, 'household', 'households')}"
    return f"{said}, {joined} new" if joined else said


def unmet(kind: Species, name: str, count: int) -> str:
    """Give "Dahlia ‘Ferry Light’: 3 plants"."""
    return f"{plants.variety(kind, name)}: {counted(count, 'plant', 'plants')}"


def kept(places: int, chance: float | None) -> tuple[str, str]:
    """Give where a variety that must not be lost stands, and the chance that it is lost."""
    return str(places), "nobody tells of a plant" if chance is None else in_hundred(chance)


def week(monday: date) -> str:
    """Give "12 Apr", as it stands under a column."""
    return f"{monday.day}{NBSP}{dates.month(monday)[:3]}"


def of_weeks(weeks: Sequence[tuple[date, Tally]]) -> str:
    """Say what the drawing of the weeks shows."""
    if not weeks:
        return "No parcel went."
    whole_alive = sum(one.alive for _day, one in weeks)
    whole_lost = sum(one.lost for _day, one in weeks)
    most = max(weeks, key=lambda one: one[1].alive)
    return (
        f"Above the line the plants that came alive, {whole_alive} in all; below it, hatched, those that did"
        f" not, {whole_lost}. The most, {most[1].alive} alive and {most[1].lost} lost, went in the week of"
        f" {most[0].day} {dates.month(most[0])}."
    )


def as_text(heading: str, sections: Sequence[tuple[str, Sequence[str]]]) -> str:
    """Give the report for a mail: a heading, and under each title its lines."""
    parts = [heading]
    for name, lines in sections:
        if lines:
            parts += ["", name, *(f"- {line}" for line in lines)]
    return "\n".join(parts).replace(NBSP, " ")
