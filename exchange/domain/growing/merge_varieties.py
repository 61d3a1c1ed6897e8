"""Two varieties that are one plant: what moves when the one is merged into the other."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from exchange.domain.circle.moves import Move, Plain, changed
from exchange.domain.growing.variety import Variety


@dataclass(frozen=True, slots=True)
class SpareUnder:
    """A spare of either variety.

    Attributes
    ----------
    may_hold : listed, nothing of it promised, and not held yet
    """

    id: int
    variety_id: int
    may_hold: bool


@dataclass(frozen=True, slots=True)
class ClaimUnder:
    """A claim of the circle, on whichever variety.

    Attributes
    ----------
    waits : neither withdrawn nor given anything yet
    """

    id: int
    household_id: int
    variety_id: int
    alternatives: tuple[int, ...]
    waits: bool


@dataclass(frozen=True, slots=True)
class Under:
    """What the circle has under two varieties: the merged one's batches, both ones' spares, every claim."""

    batches: tuple[int, ...]
    spares: tuple[SpareUnder, ...]
    claims: tuple[ClaimUnder, ...]


def merge_varieties(kept: Variety, merged: Variety, under: Under, at: str) -> tuple[Move, ...]:
    """Give what moves when a variety is merged into another, in an order in which it can be done.

    Where a household waits for both, its claim on the kept one stands and the other is withdrawn.
    A mark "must not be lost", and one that breeders' rights may apply, is never lost by merging.

    Parameters
    ----------
    at : the instant of the act, as ISO 8601 writes it
    """
    ends = (kept.id, merged.id)
    return changed(
        (
            *(Move("batch", one, "variety_id", *ends[::-1]) for one in under.batches),
            *_spares(kept, merged, under.spares),
            *_claims(ends, under.claims, at),
            *_marks(kept, merged),
            Move("variety", merged.id, "merged_into", None, kept.id),
        )
    )


def withdrawn(moves: Iterable[Move]) -> int:
    """Count the claims withdrawn because their household waits for both [claims]."""
    return sum(one.noun == "claim" and one.column == "withdrawn_at" for one in moves)


def _spares(kept: Variety, merged: Variety, spares: tuple[SpareUnder, ...]) -> Iterator[Move]:
    unprotected = {one.id for one in (kept, merged) if not one.protected}
    either = kept.protected or merged.protected
    for one in spares:
        if one.variety_id == merged.id:
            yield Move("spare", one.id, "variety_id", merged.id, kept.id)
        if either and one.may_hold and one.variety_id in unprotected:
            yield Move("spare", one.id, "held", False, True)


def _claims(ends: tuple[int, int], claims: tuple[ClaimUnder, ...], at: str) -> Iterator[Move]:
    kept_id, merged_id = ends
    waiting = {one.household_id for one in claims if one.waits and one.variety_id == kept_id}
    for one in claims:
        variety_id = kept_id if one.variety_id == merged_id else one.variety_id
        yield Move("claim", one.id, "variety_id", one.variety_id, variety_id)
        if one.variety_id == merged_id and one.waits and one.household_id in waiting:
            yield Move("claim", one.id, "withdrawn_at", None, at)
        if merged_id in one.alternatives or variety_id in one.alternatives:
            others = (kept_id if each == merged_id else each for each in one.alternatives)
            wanted = tuple(dict.fromkeys(each for each in others if each != variety_id))
            yield Move("claim", one.id, "alternatives", one.alternatives, wanted)


def _marks(kept: Variety, merged: Variety) -> Iterator[Move]:
    said: list[tuple[str, Plain, Plain]] = []
    if merged.must_not_be_lost and not kept.must_not_be_lost:
        because = "must_not_be_lost_because"
        said += [
            ("must_not_be_lost", False, True),
            (because, kept.must_not_be_lost_because, merged.must_not_be_lost_because),
            ("target_places", kept.target_places, max(kept.target_places, merged.target_places)),
        ]
    if merged.protected and not kept.protected:
        said += [("protected", False, True), ("authority", kept.authority, merged.authority)]
    for column, before, after in said:
        yield Move("variety", kept.id, column, before, after)
