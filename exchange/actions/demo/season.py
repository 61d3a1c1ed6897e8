"""The demo circle's season, done by its members' own acts."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, datetime

from exchange.actions.demo.data import DemoData
from exchange.actions.demo.people import Settled
from exchange.actions.growing.batches import NewBatch, grow_too
from exchange.actions.growing.varieties import Marks, mark_variety, name_variety
from exchange.actions.kernel.actor import Actor
from exchange.actions.sharing.claims import NewClaim, claim
from exchange.actions.sharing.share_out import NewShareOut, open_share_out
from exchange.actions.sharing.spares import NewSpare, list_spare
from exchange.domain.growing.batch import Material, Raised
from exchange.domain.growing.shelter import ShelterKind
from exchange.domain.growing.variety import Keeps, Species
from exchange.domain.sharing.claim import USUAL_MATERIALS


@dataclass(frozen=True)
class Listed:
    """What the members did before the closing day.

    Attributes
    ----------
    varieties : by name
    """

    varieties: Mapping[str, int]
    share_out_id: int


def list_season(data: DemoData, settled: Settled) -> Listed:
    """Let the members say what they grow, list spares and claim; the share-out is left open."""
    opened = data.at(data.circle["share_out"]["opens"], 10)
    varieties = _varieties(data, settled, opened)
    for row in data.batches:
        actor = settled.actors[row["household"]]
        grow_too(actor, _batch(row, settled, varieties), opened)
    share_out_id = open_share_out(
        settled.organiser,
        NewShareOut(
            data.circle["share_out"]["name"],
            data.circle["share_out"]["closes"],
            str(data.circle["share_out"]["draw_number"]),
        ),
        opened,
    )
    for row in data.spares:
        new = _spare(row, settled, varieties)
        day = max(data.circle["share_out"]["opens"], new.health_on or date.min)
        list_spare(settled.actors[row["household"]], new, data.at(day, 11))
    for row in data.claims:
        claim(settled.actors[row["household"]], _claim(row, settled, varieties), opened)
    return Listed(varieties, share_out_id)


def _varieties(data: DemoData, settled: Settled, now: datetime) -> dict[str, int]:
    found = {}
    for row in data.varieties:
        variety = name_variety(settled.organiser, row["name"], Species(row["species"]), now)
        marks = Marks(
            Keeps(row["keeps"]),
            row["must_not_be_lost"] == "yes",
            row["because"],
            int(row["target_places"] or 3),
            row["protected"] == "yes",
            row["authority"],
        )
        marker: Actor = settled.organiser
        mark_variety(marker, variety.id, marks, now)
        found[row["name"]] = variety.id
    return found


def _batch(row: Mapping[str, str], settled: Settled, varieties: Mapping[str, int]) -> NewBatch:
    return NewBatch(
        varieties[row["variety"]],
        int(row["plants"]),
        settled.places[row["household"], row["place"]],
        Material(row["material"]),
        Raised(row["raised"]),
        ShelterKind(row["shelter"]) if row["shelter"] else None,
        row["origin"],
    )


def _spare(row: Mapping[str, str], settled: Settled, varieties: Mapping[str, int]) -> NewSpare:
    return NewSpare(
        varieties[row["variety"]],
        Material(row["material"]),
        Raised(row["raised"]),
        int(row["count"]),
        date.fromisoformat(row["ready_from"]),
        date.fromisoformat(row["send_by"]),
        settled.places[row["household"], row["place"]],
        settled.households[row["set_aside_for"]] if row["set_aside_for"] else None,
        row["roots_seen"] == "yes",
        row["health_by"],
        date.fromisoformat(row["health_on"]) if row["health_on"] else None,
        may_go=True,
    )


def _claim(row: Mapping[str, str], settled: Settled, varieties: Mapping[str, int]) -> NewClaim:
    materials = frozenset(Material(one) for one in row["materials"].split(";") if one)
    return NewClaim(
        varieties[row["variety"]],
        int(row["asked"]),
        int(row["choice"]),
        materials or USUAL_MATERIALS,
        date.fromisoformat(row["no_use_after"]) if row["no_use_after"] else None,
        tuple(varieties[name] for name in row["alternatives"].split(";") if name),
        settled.places[row["household"], row["place"]],
    )
