"""Allocations gathered into parcels: one household to one place, in windows that meet."""

from collections import Counter, defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from exchange.domain.growing.batch import Material
from exchange.domain.posting.code import new_code
from exchange.domain.posting.parcel import OPEN, WITH_SENDER, Line, Parcel


@dataclass(frozen=True, slots=True)
class AllocationToSend:
    """One allocation with its two ends."""

    line: Line
    sender_household_id: int
    sender_place_id: int
    receiver_household_id: int
    receiver_place_id: int


@dataclass(frozen=True, slots=True)
class Grouped:
    """What the parcels should be.

    Attributes
    ----------
    kept : parcels that keep their row and code, with their new lines
    new : parcels to make, with their code; their id is 0
    gone : ids of parcels whose last allocation has gone
    """

    kept: tuple[Parcel, ...]
    new: tuple[Parcel, ...]
    gone: tuple[int, ...]


Ends = tuple[int, int, int, int, bool]
Bins = list[tuple[Parcel | None, list[Line]]]


def group(
    consignments: Iterable[AllocationToSend], parcels: Sequence[Parcel], codes: Iterable[str] = ()
) -> Grouped:
    """Gather allocations into parcels.

    A parcel keeps its row and code while one of its allocations remains. Parcels posted or arrived
    are left alone and what is in them; what came back to its sender is packed anew. Plants of
    one allocation that somebody put into two parcels stay apart. Two pieces of a variety that must not be lost never
    share a parcel, so an allocation of two becomes two lines of one.

    Parameters
    ----------
    codes : codes taken besides those of the parcels
    """
    open_parcels = sorted((one for one in parcels if one.state in OPEN), key=lambda one: one.id)
    settled = _inside(one for one in parcels if one.state not in WITH_SENDER)
    apart = _inside(open_parcels)
    wanted: defaultdict[Ends, list[Line]] = defaultdict(list)
    for each in consignments:
        key = each.line.allocation_id
        left = each.line.count - sum(settled[key])
        if left > 0:
            wanted[_ends(each)] += _pieces(replace(each.line, count=left), apart[key])
    bins: dict[Ends, Bins] = {}
    for ends, lines in sorted(wanted.items()):
        bins[ends] = _bins([one for one in open_parcels if _fits(one, ends)], lines)
    return _settle(bins, open_parcels, {one.code for one in parcels} | set(codes))


def _ends(each: AllocationToSend) -> Ends:
    return (
        each.sender_household_id,
        each.sender_place_id,
        each.receiver_household_id,
        each.receiver_place_id,
        each.line.material is Material.UNROOTED,
    )


def _fits(parcel: Parcel, ends: Ends) -> bool:
    damp = any(line.material is Material.UNROOTED for line in parcel.lines)
    return ends == (
        parcel.sender_household_id,
        parcel.sender_place_id,
        parcel.receiver_household_id,
        parcel.receiver_place_id,
        damp,
    )


def _inside(parcels: Iterable[Parcel]) -> defaultdict[int, list[int]]:
    """Give how many plants of each allocation lie in each of the parcels [plants]."""
    found: defaultdict[int, list[int]] = defaultdict(list)
    for one in parcels:
        held = Counter[int]()
        for line in one.lines:
            held[line.allocation_id] += line.count
        for key, count in held.items():
            found[key].append(count)
    return found


def _pieces(line: Line, apart: Sequence[int]) -> list[Line]:
    """Give a line in the pieces that travel apart: one by one, or as they lie in parcels already."""
    if line.must_not_be_lost:
        return [replace(line, count=1)] * line.count
    counts, left = [], line.count
    for count in apart:
        counts.append(min(count, left))
        left -= counts[-1]
    counts = [counts[0] + left, *counts[1:]] if counts else [left]
    return [replace(line, count=count) for count in counts if count]


def _bins(parcels: Sequence[Parcel], lines: Sequence[Line]) -> Bins:
    """Put lines into parcels: first where they were, then wherever they fit, then into a new one."""
    bins: Bins = [(parcel, []) for parcel in parcels]
    loose = []
    for line in sorted(lines, key=lambda one: (one.ready_from, one.variety_id, one.allocation_id)):
        home = next((held for parcel, held in bins if _was_in(parcel, line, held)), None)
        if home is None:
            loose.append(line)
        else:
            home.append(line)
    for line in loose:
        place = next((held for _, held in bins if held and _meets(line, held)), None)
        if place is None:
            bins.append((None, [line]))
        else:
            place.append(line)
    return bins


def _was_in(parcel: Parcel | None, line: Line, held: Sequence[Line]) -> bool:
    if parcel is None:
        return False
    inside = any(one.allocation_id == line.allocation_id for one in parcel.lines)
    again = any(one.allocation_id == line.allocation_id for one in held)
    return inside and not again and _meets(line, held)


def _meets(line: Line, held: Sequence[Line]) -> bool:
    """Say whether a line may join others: windows meet, and no irreplaceable variety twice."""
    ready = max([line.ready_from, *(one.ready_from for one in held)])
    send_by = min([line.send_by, *(one.send_by for one in held)])
    twice = line.must_not_be_lost and any(one.variety_id == line.variety_id for one in held)
    return ready <= send_by and not twice


def _settle(bins: dict[Ends, Bins], open_parcels: Sequence[Parcel], taken: set[str]) -> Grouped:
    kept, new = [], []
    for ends, held in sorted(bins.items()):
        for parcel, lines in held:
            if parcel is not None and lines:
                kept.append(replace(parcel, lines=tuple(lines)))
            elif parcel is None:
                code = new_code(taken)
                taken.add(code)
                new.append(Parcel(0, code, *ends[:4], tuple(lines)))
    standing = {one.id for one in kept}
    gone = tuple(one.id for one in open_parcels if one.id not in standing)
    return Grouped(tuple(sorted(kept, key=lambda one: one.id)), tuple(new), gone)
