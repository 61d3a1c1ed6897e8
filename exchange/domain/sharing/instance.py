"""A case as plain values for a file, and back; with the file's own fingerprint.

Only what the rules look at is written: no name, no town, no pin of anybody's place.
"""

import json
from collections.abc import Mapping
from dataclasses import asdict
from datetime import date, timedelta
from enum import Enum
from hashlib import sha256
from typing import Any

from exchange.domain.circle.border import BorderRow, Passage
from exchange.domain.circle.household import Household
from exchange.domain.circle.place import Place
from exchange.domain.growing.batch import Batch, Material, Raised
from exchange.domain.growing.fit import OutFrom
from exchange.domain.growing.shelter import Shelter, ShelterKind
from exchange.domain.growing.variety import Keeps, Species, Variety
from exchange.domain.sharing.case import Allocation, ShareOutCase, SharingTerms
from exchange.domain.sharing.claim import Claim
from exchange.domain.sharing.spare import Spare

FINGERPRINT = "fingerprint"

FORM = 4
"""The form of workings: it rises when a rule's figures, the rows of the programme or the case are written otherwise."""


FORMER_WAIT = timedelta(days=28)
"""After the planting-out day coleus and foliage begonias waited so long, as the former form had it [days]."""


def fingerprint(working: Mapping[str, Any]) -> str:
    """Give the SHA-256 of everything in a working but its fingerprint, in hexadecimal."""
    rest = {key: value for key, value in working.items() if key != FINGERPRINT}
    text = json.dumps(rest, sort_keys=True, separators=(",", ":"), ensure_ascii=True)
    return sha256(text.encode()).hexdigest()


def fingerprinted(working: dict[str, Any]) -> dict[str, Any]:
    """Add its fingerprint to a working."""
    return {**working, FINGERPRINT: fingerprint(working)}


def case_values(case: ShareOutCase) -> dict[str, Any]:
    """Give a case as plain values."""
    return {
        "closes_on": case.closes_on.isoformat(),
        "draw_number": case.draw_number,
        "terms": asdict(case.terms),
        "households": [[one.id, one.left] for one in case.households],
        "places": [[one.id, one.household_id] for one in case.places],
        "shelters": [_plain(asdict(one)) for one in case.shelters],
        "varieties": [_variety_values(one) for one in case.varieties],
        "batches": [_batch_values(one) for one in case.batches],
        "spares": [_plain(asdict(one)) for one in case.spares],
        "claims": [_plain(asdict(one)) for one in case.claims],
        "taken": sorted([place, kind.value, pots] for (place, kind), pots in case.taken.items()),
        "passage": [
            [*ends, _plain(asdict(row))]
            for ends, row in sorted(case.passage.items(), key=lambda one: one[0])
            if row is not None
        ],
        "safe_from": [
            [place, *_plain(asdict(out)).values()] for place, out in sorted(case.safe_from.items())
        ],
        "given": sorted(map(list, case.given.items())),
        "received": sorted(map(list, case.received.items())),
        "postage": None
        if case.postage is None
        else sorted([*ends, coins] for ends, coins in case.postage.items()),
        "pins": [[one.spare_id, one.claim_id, one.count] for one in case.pins],
        "forbids": [list(one) for one in case.forbids],
        "kept": [[one.spare_id, one.claim_id, one.count] for one in case.kept],
    }


def case_from(values: Mapping[str, Any]) -> ShareOutCase:
    """Give the case back from plain values.

    Raises
    ------
    KeyError, TypeError, ValueError
        when the values are not those of a case
    """
    return ShareOutCase(
        closes_on=date.fromisoformat(values["closes_on"]),
        draw_number=values["draw_number"],
        households=tuple(Household(one, "", left=left) for one, left in values["households"]),
        places=tuple(
            Place(one, household, "", "", "", "", "", 0.0, 0.0, "UTC")
            for one, household in values["places"]
        ),
        shelters=tuple(
            Shelter(**{**one, "kind": ShelterKind(one["kind"])}) for one in values["shelters"]
        ),
        varieties=tuple(map(_variety, values["varieties"])),
        batches=tuple(map(_batch, values["batches"])),
        spares=tuple(map(_spare, values["spares"])),
        claims=tuple(map(_claim, values["claims"])),
        taken={(place, ShelterKind(kind)): pots for place, kind, pots in values["taken"]},
        passage={(start, end): _border(row) for start, end, row in values["passage"]},
        safe_from={place: _out_from(*days) for place, *days in values["safe_from"]},
        terms=SharingTerms(**values["terms"]),
        given=dict(values["given"]),
        received=dict(values["received"]),
        postage=None
        if values["postage"] is None
        else {(start, end): coins for start, end, coins in values["postage"]},
        pins=tuple(Allocation(*one) for one in values["pins"]),
        forbids=tuple((spare, claim) for spare, claim in values["forbids"]),
        kept=tuple(Allocation(*one) for one in values["kept"]),
    )


def _day(value: str | None) -> date | None:
    return None if value is None else date.fromisoformat(value)


def _out_from(planting_out: str | None, *more: Any) -> OutFrom:
    """Give back from when plants may stand outdoors; the former form knew the planting-out day alone, and waited four weeks more."""
    day = _day(planting_out)
    if not more:
        return OutFrom(day, None if day is None else day + FORMER_WAIT)
    warm_nights, short_summer = more
    return OutFrom(day, _day(warm_nights), short_summer)


def _plain(values: dict[str, Any]) -> dict[str, Any]:
    """Turn days, kinds and sets into plain values."""
    return {key: _plain_value(value) for key, value in values.items()}


def _plain_value(value: object) -> object:
    """Turn one value plain."""
    if isinstance(value, date):
        return value.isoformat()
    if isinstance(value, Enum):
        return value.value
    if isinstance(value, frozenset):
        return sorted(str(one.value) if isinstance(one, Enum) else str(one) for one in value)
    return list(value) if isinstance(value, tuple) else value


def _variety_values(one: Variety) -> dict[str, Any]:
    """Give what the rules look at in a variety."""
    return {
        "id": one.id,
        "species": one.species.value,
        "keeps": one.keeps.value,
        "must_not_be_lost": one.must_not_be_lost,
        "target_places": one.target_places,
        "protected": one.protected,
    }


def _variety(values: Mapping[str, Any]) -> Variety:
    """Give a variety back."""
    kinds = {"species": Species(values["species"]), "keeps": Keeps(values["keeps"])}
    return Variety(**{"name": "", **values, **kinds})


def _batch_values(one: Batch) -> dict[str, Any]:
    """Give what the rules look at in a batch."""
    return {"variety": one.variety_id, "place": one.place_id, "plants": one.plants}


def _batch(values: Mapping[str, Any]) -> Batch:
    """Give a batch back."""
    variety, place, plants = values["variety"], values["place"], values["plants"]
    return Batch(0, variety, 0, place, Material.ROOTED, Raised.COOL, plants)


def _spare(values: Mapping[str, Any]) -> Spare:
    """Give a spare back."""
    changed = {
        "material": Material(values["material"]),
        "raised": Raised(values["raised"]),
        "ready_from": date.fromisoformat(values["ready_from"]),
        "send_by": date.fromisoformat(values["send_by"]),
    }
    return Spare(**{**values, **changed})


def _claim(values: Mapping[str, Any]) -> Claim:
    """Give a claim back."""
    last = values["no_use_after"]
    changed = {
        "materials": frozenset(map(Material, values["materials"])),
        "no_use_after": _day(last),
        "alternatives": tuple(values["alternatives"]),
    }
    return Claim(**{**values, **changed})


def _border(values: Mapping[str, Any]) -> BorderRow:
    """Give a border row back."""
    return BorderRow(**{**values, "passage": Passage(values["passage"])})
