"""Towns and postal districts, found by what a member types."""

import re
import unicodedata
from collections import Counter
from dataclasses import dataclass, replace
from difflib import SequenceMatcher
from functools import cache

from exchange.domain.circle.earth import distance_km
from exchange.domain.growing.names import NEAR_RATIO
from exchange.reference.tables import rows_of

_BRITISH_LANDS = frozenset({"ENG", "SCT", "WLS", "NIR"})
_DISTRICT = re.compile(r"[A-Z]{1,2}[0-9][0-9A-Z]?")
_INWARD_PART = re.compile(r"\s*[0-9][A-Z]{2}$")
_TOWN_OF_DISTRICT_MIN = 1000


@dataclass(frozen=True, slots=True)
class Found:
    """A town or postal district.

    Attributes
    ----------
    town, county : the town, and what tells it from others of its name
    country : ISO 3166-1 alpha-2 code
    subdivision : code its holidays go by, empty where there is none
    latitude, longitude : [degrees]
    zone : IANA name
    district : the postal district searched for, empty for a town
    population : 0 when unknown [people]
    """

    town: str
    county: str
    country: str
    subdivision: str
    latitude: float
    longitude: float
    zone: str
    district: str = ""
    population: int = 0


def search(text: str, country: str = "", most: int = 8) -> tuple[Found, ...]:
    """Give the places a member may mean, the likeliest first.

    A British postal district ("SY8") or postcode gives the district's centre under the name of the
    nearest town; only the district is used, the rest of a postcode is dropped. Otherwise towns
    whose name is, begins with or has a word beginning with the text; larger towns first. Words
    after a comma narrow the county ("Newport, Essex").

    Parameters
    ----------
    text : as typed
    country : only this country, or anywhere when empty
    most : how many to give
    """
    district = _district(text)
    if district is not None:
        return (district,) if country in ("", district.country) else ()
    name, _comma, county = text.partition(",")
    wanted, narrowed = folded(name), folded(county)
    if not wanted:
        return ()
    ranked = sorted(
        (
            (_rank(wanted, key), -town.population, town.town, town.county, town)
            for key, town in _towns()
            if _rank(wanted, key) < 3
            and country in ("", town.country)
            and folded(town.county).startswith(narrowed)
        ),
        key=lambda entry: entry[:4],
    )
    return tuple(entry[4] for entry in ranked[:most])


def alike(text: str, country: str = "", most: int = 4) -> tuple[Found, ...]:
    """Give the towns whose names are nearly what was typed, the most alike first.

    A county after a comma narrows them where it is one of theirs; a misspelt one does not.

    Parameters
    ----------
    text : as typed
    country : only this country, or anywhere when empty
    most : how many to give
    """
    name, _comma, county = text.partition(",")
    matcher = SequenceMatcher(autojunk=False)
    matcher.set_seq2(folded(name))
    found = []
    for key, town in _towns():
        if country not in ("", town.country):
            continue
        matcher.set_seq1(key)
        if min(matcher.real_quick_ratio(), matcher.quick_ratio()) < NEAR_RATIO:
            continue
        if (ratio := matcher.ratio()) >= NEAR_RATIO:
            found.append((-ratio, -town.population, town.county, town))
    narrowed = folded(county)
    there = [one for one in found if narrowed and folded(one[2]).startswith(narrowed)]
    return tuple(one[3] for one in sorted(there or found, key=lambda one: one[:3])[:most])


def folded(text: str) -> str:
    """Give the text in lower case without accents, hyphens or full stops; "Saint" is "St"."""
    plain = unicodedata.normalize("NFKD", text.casefold())
    kept = (c if c.isalnum() or c == " " else " " for c in plain if not unicodedata.combining(c))
    words = "".join(kept).replace(" s ", "s ").split()
    return " ".join("st" if word == "saint" else word for word in words)


def countries() -> tuple[str, ...]:
    """Give the countries whose towns are known, as ISO 3166-1 alpha-2 codes."""
    return tuple(sorted({town.country for _key, town in _towns()}))


def nearest_town(latitude: float, longitude: float) -> Found:
    """Give the nearest town of a thousand people or more."""
    return min(
        (town for _key, town in _towns() if town.population >= _TOWN_OF_DISTRICT_MIN),
        key=lambda town: distance_km((latitude, longitude), (town.latitude, town.longitude)),
    )


def _rank(wanted: str, key: str) -> int:
    if key == wanted:
        return 0
    if key.startswith(wanted):
        return 1
    return 2 if f" {wanted}" in key else 3


def _district(text: str) -> Found | None:
    code = _INWARD_PART.sub("", text.strip().upper()).strip()
    if not _DISTRICT.fullmatch(code):
        return None
    centre = _districts().get(code)
    if centre is None:
        return None
    town = nearest_town(*centre)
    latitude, longitude = centre
    return replace(town, latitude=latitude, longitude=longitude, district=code, population=0)


@cache
def _districts() -> dict[str, tuple[float, float]]:
    return {
        row["outcode"]: (round(float(row["lat"]), 3), round(float(row["lon"]), 3))
        for row in rows_of("uk_outcode_centroids.csv")
    }


@cache
def _towns() -> tuple[tuple[str, Found], ...]:
    towns = [_found(row) for row in rows_of("gazetteer_gb_ie_nl.csv")]
    alike = Counter((town.town, town.county, town.country) for town in towns)
    return tuple(
        (
            folded(town.town),
            town if alike[town.town, town.county, town.country] == 1 else _near(town, towns),
        )
        for town in towns
    )


def _near(town: Found, towns: list[Found]) -> Found:
    """Tell two towns of one name in one county apart by the larger town nearby."""
    others = [t for t in towns if t.town != town.town and t.population >= 5000]
    neighbour = min(
        others,
        key=lambda t: distance_km((town.latitude, town.longitude), (t.latitude, t.longitude)),
    )
    return replace(town, county=f"{town.county}, near {neighbour.town}")


def _found(row: dict[str, str]) -> Found:
    return Found(
        town=row["name"],
        county=row["county"],
        country=row["country"],
        subdivision=row["admin1"] if row["admin1"] in _BRITISH_LANDS else "",
        latitude=round(float(row["lat"]), 3),
        longitude=round(float(row["lon"]), 3),
        zone=row["timezone"],
        population=int(row["population"]),
    )
