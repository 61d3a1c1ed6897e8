"""What would have brought a claim more: every change is tried by working the share-out out again, none is presumed."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import date
from enum import StrEnum

from exchange.domain.growing.batch import Material, Raised
from exchange.domain.growing.fit import WARM_TO_COLD, fit_from
from exchange.domain.growing.room import POTS_A_TRAY
from exchange.domain.growing.shelter import Shelter, ShelterKind
from exchange.domain.optimise.programme import Watch
from exchange.domain.sharing.case import MOST_PLANTS, ShareOutCase
from exchange.domain.sharing.claim import Claim
from exchange.domain.sharing.outcome import ShareOut
from exchange.domain.sharing.pairing import pair_up
from exchange.domain.sharing.pairs import PairingLookups, wanted
from exchange.domain.sharing.reason import ClaimOutcome
from exchange.domain.sharing.share_out import find, never_stop
from exchange.domain.sharing.spare import Spare

COLUMNS_TRIED = 40_000
"""So many columns are worked out in all to try changes to one claim, but `TRIED` changes at least."""

TRIED = 12
"""So many changes are tried in a circle of any size."""


class ChangeKind(StrEnum):
    """What could be different."""

    MATERIAL = "material"
    LATER = "later"
    TRAY = "tray"
    HARDENED = "hardened"
    CHOICE = "choice"
    ASKED = "asked"
    ALTERNATIVE = "alternative"


@dataclass(frozen=True, slots=True)
class Counterfactual:
    """Something that would have brought the claim more plants, everything else equal.

    Attributes
    ----------
    more : plants it would have brought [plants]
    material : for another material
    until : for a later day: the earliest last day of use that suffices
    shelter : for room: in which shelter
    choice : for another choice: which
    asked : for another number: which [plants]
    variety_id : for an alternative: the variety
    """

    kind: ChangeKind
    more: int
    material: Material | None = None
    until: date | None = None
    shelter: ShelterKind | None = None
    choice: int | None = None
    asked: int | None = None
    variety_id: int | None = None


@dataclass(frozen=True, slots=True)
class Tried:
    """What was tried.

    Attributes
    ----------
    found : what would have brought more, the smallest change of each kind
    every : whether every change of every kind was tried, so far as needed
    """

    found: tuple[Counterfactual, ...]
    every: bool


Variant = tuple[Counterfactual, ShareOutCase]


def what_would_change(
    case: ShareOutCase, share_out: ShareOut, claim_id: int, watch: Watch = never_stop
) -> Tried:
    """Try what could be different, and give what would have brought more plants.

    Every change is worked out in full, so what it promises is what the rules would have given. Of days, choices and
    numbers the smallest change that suffices is given.

    Raises
    ------
    Stopped
        when `watch` asks to stop
    """
    reason = share_out.reasons[claim_id]
    if reason.standing is ClaimOutcome.MET:
        return Tried((), every=True)
    claim = next(one for one in case.claims if one.id == claim_id)
    left = max(TRIED, COLUMNS_TRIED // max(1, pair_up(case).count))
    found: list[Counterfactual] = []
    for variants in _kinds(case, share_out, claim):
        for change, changed in variants:
            if not left:
                return Tried(tuple(found), every=False)
            left -= 1
            allocations = find(changed, watch).allocations
            more = sum(one.count for one in allocations if one.claim_id == claim_id) - reason.given
            if more > 0:
                found.append(replace(change, more=more))
                if change.kind not in _EACH:
                    break
    return Tried(tuple(found), every=True)


_EACH = frozenset({ChangeKind.MATERIAL, ChangeKind.TRAY})
"""Kinds of which each that brings more is told, and not only the first."""


def _kinds(case: ShareOutCase, share_out: ShareOut, claim: Claim) -> Iterator[Iterator[Variant]]:
    """Give the changes of each kind, the smallest first."""
    takes = wanted(claim)
    offers = [
        one
        for one in case.spares
        if one.variety_id in takes and one.household_id != claim.household_id
    ]
    yield _materials(case, claim, offers)
    yield _days(case, claim, offers)
    yield _rooms(case, claim)
    yield _hardened(case, offers)
    yield _choices(case, claim)
    yield _numbers(case, claim, share_out.reasons[claim.id].given)
    yield _alternatives(case, share_out, claim)


def _materials(case: ShareOutCase, claim: Claim, offers: list[Spare]) -> Iterator[Variant]:
    for material in sorted({one.material for one in offers} - claim.materials - {Material.SEED}):
        wider = replace(claim, materials=claim.materials | {material})
        yield Counterfactual(ChangeKind.MATERIAL, 0, material=material), _with_claim(case, wider)


def _days(case: ShareOutCase, claim: Claim, offers: list[Spare]) -> Iterator[Variant]:
    """Try every later day on which a spare comes into reach or a colder shelter begins to do."""
    last = claim.no_use_after
    if last is None:
        return
    lookups = PairingLookups(case)
    safe_from = case.safe_from.get(claim.place_id)
    days: set[date] = set()
    for one in offers:
        first = lookups.first_day(one)
        fits = (fit_from(kind, lookups.stock(one), safe_from) for kind in WARM_TO_COLD)
        known = {max(first, day) for day in fits if day is not None}
        days |= {day for day in (first, *known) if last < day <= one.send_by}
    for day in sorted(days):
        later = replace(claim, no_use_after=day)
        yield Counterfactual(ChangeKind.LATER, 0, until=day), _with_claim(case, later)


def _rooms(case: ShareOutCase, claim: Claim) -> Iterator[Variant]:
    """Try room for one seed tray more in each shelter that gave its room, and indoors where none is named."""
    here = [one for one in case.shelters if one.place_id == claim.place_id]
    for shelter in here:
        if shelter.room_pots is not None:
            more = replace(shelter, room_pots=shelter.room_pots + POTS_A_TRAY)
            shelters = tuple(more if one is shelter else one for one in case.shelters)
            change = Counterfactual(ChangeKind.TRAY, 0, shelter=shelter.kind)
            yield change, replace(case, shelters=shelters)
    if here and all(one.kind is not ShelterKind.INDOORS for one in here):
        tray = Shelter(claim.place_id, ShelterKind.INDOORS, POTS_A_TRAY)
        change = Counterfactual(ChangeKind.TRAY, 0, shelter=ShelterKind.INDOORS)
        yield change, replace(case, shelters=(*case.shelters, tray))


def _hardened(case: ShareOutCase, offers: list[Spare]) -> Iterator[Variant]:
    if any(one.raised is not Raised.HARDENED for one in offers):
        hardened = tuple(
            replace(one, raised=Raised.HARDENED) if one in offers else one for one in case.spares
        )
        yield Counterfactual(ChangeKind.HARDENED, 0), replace(case, spares=hardened)


def _choices(case: ShareOutCase, claim: Claim) -> Iterator[Variant]:
    for choice in range(claim.choice - 1, 0, -1):
        higher = replace(claim, choice=choice)
        yield Counterfactual(ChangeKind.CHOICE, 0, choice=choice), _with_claim(case, higher)


def _numbers(case: ShareOutCase, claim: Claim, given: int) -> Iterator[Variant]:
    """Try one plant more, and every smaller number that is more than was given."""
    for asked in (claim.asked + 1, *range(claim.asked - 1, given, -1)):
        if asked <= MOST_PLANTS:
            other = replace(claim, asked=asked)
            yield Counterfactual(ChangeKind.ASKED, 0, asked=asked), _with_claim(case, other)


def _alternatives(case: ShareOutCase, share_out: ShareOut, claim: Claim) -> Iterator[Variant]:
    """Try every variety of which a plant could come, as one more alternative; those with most left over first."""
    lookups = PairingLookups(case)
    takes = wanted(claim)
    left = {one.id: one.count for one in case.spares}
    for given in share_out.allocations:
        left[given.spare_id] -= given.count
    could: dict[int, int] = {}
    for one in case.spares:
        if one.variety_id not in takes and lookups.obstacle(one, claim) is None:
            could[one.variety_id] = could.get(one.variety_id, 0) + left[one.id]
    for variety in sorted(could, key=lambda one: (-could[one], one)):
        wider = replace(claim, alternatives=(*claim.alternatives, variety))
        change = Counterfactual(ChangeKind.ALTERNATIVE, 0, variety_id=variety)
        yield change, _with_claim(case, wider)


def _with_claim(case: ShareOutCase, claim: Claim) -> ShareOutCase:
    """Give the case with one claim changed."""
    return replace(case, claims=tuple(claim if one.id == claim.id else one for one in case.claims))
