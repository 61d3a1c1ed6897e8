"""How members see each other: first names and county, never more."""

from collections.abc import Mapping

from exchange.records import MEMBERS, PLACES, Tx
from exchange.words.kernel.phrase import listed


def household_names(tx: Tx, circle_id: int) -> dict[int, str]:
    """Give "Maud and Colin" for every household [household id -> first names]."""
    names: dict[int, list[str]] = {}
    for member in MEMBERS.all(tx, circle_id, left_at=None):
        names.setdefault(member.household_id, []).append(member.first_name)
    return {household_id: listed(people) for household_id, people in names.items()}


def household_labels(tx: Tx, circle_id: int) -> Mapping[int, str]:
    """Give "Maud and Colin, Shropshire" for every household [household id -> label]."""
    counties: dict[int, str] = {}
    for place in PLACES.all(tx, circle_id):
        counties.setdefault(place.household_id, place.county)
    labels = {}
    for household_id, who in household_names(tx, circle_id).items():
        county = counties.get(household_id, "")
        labels[household_id] = f"{who}, {county}" if county else who
    return labels
