"""Which shelter fits which stock, from which day.

Stock raised in heat collapses in one cold night, hardened stock does not. A shelter that does not fit yet moves the
day; it refuses only when no day fits. All days of grace here are judgement; docs/figures.md lists them.
"""

from dataclasses import dataclass
from datetime import date, timedelta

from exchange.domain.growing.batch import RESTING, Material, Raised
from exchange.domain.growing.season import WAITS_FOR_WARM_NIGHTS
from exchange.domain.growing.shelter import Shelter, ShelterKind, stands_as
from exchange.domain.growing.variety import Species

WARM_TO_COLD = (
    ShelterKind.PROPAGATOR,
    ShelterKind.INDOORS,
    ShelterKind.HEATED,
    ShelterKind.FROST_FREE,
    ShelterKind.COLD,
    ShelterKind.OPEN_GROUND,
)
"""Shelters from the warmest to the coldest."""

LOVES_WARMTH = frozenset({*WAITS_FOR_WARM_NIGHTS, Species.OTHER})
"""Kinds hurt well above freezing (coleus below 10 degrees C); OTHER takes careful figures too."""

ALWAYS = date.min
"""A shelter that fits on every day fits from this one."""


@dataclass(frozen=True, slots=True)
class Stock:
    """What decides which shelter plants need."""

    species: Species
    material: Material
    raised: Raised


def fit_from(kind: ShelterKind, stock: Stock, safe_from: date | None) -> date | None:
    """Give the first day on which a shelter of this kind fits the stock.

    Parameters
    ----------
    safe_from : planting-out day of dahlias at the place, or None when unknown

    Returns
    -------
    the day, `ALWAYS`, or None when no day is known to fit
    """
    grace = _days_before_safe(kind, stock)
    if grace is None:
        return ALWAYS
    if safe_from is None:
        return None
    return safe_from - timedelta(days=grace)


def coldest_fit(stock: Stock, day: date, safe_from: date | None) -> ShelterKind:
    """Give the coldest kind of shelter that fits the stock on the day; every warmer kind fits too."""
    fits = ShelterKind.HEATED
    # The three warmest fit any stock on any day.
    for kind in WARM_TO_COLD[3:]:
        first = fit_from(kind, stock, safe_from)
        if first is None or first > day:
            break
        fits = kind
    return fits


def fits_at_place(
    shelters: tuple[Shelter, ...], stock: Stock, safe_from: date | None
) -> date | None:
    """Give the first day on which any shelter of a place fits; a place with none given counts as indoors."""
    if not shelters:
        return ALWAYS
    days = [fit_from(stands_as(shelter), stock, safe_from) for shelter in shelters]
    known = [day for day in days if day is not None]
    return min(known) if known else None


def _days_before_safe(kind: ShelterKind, stock: Stock) -> int | None:
    """Say how long before the safe date the shelter fits [days]; None: on every day."""
    if kind in (ShelterKind.PROPAGATOR, ShelterKind.INDOORS, ShelterKind.HEATED):
        return None
    if stock.material is Material.SEED:
        return None
    if stock.material in RESTING:
        return {ShelterKind.FROST_FREE: None, ShelterKind.COLD: 28, ShelterKind.OPEN_GROUND: 14}[
            kind
        ]
    if stock.species in WAITS_FOR_WARM_NIGHTS:
        # At ten towns nights of 10 degrees C come 22 to 32 days after planting out; glass gains a fortnight.
        return {ShelterKind.FROST_FREE: 0, ShelterKind.COLD: -14, ShelterKind.OPEN_GROUND: -28}[
            kind
        ]
    if stock.species in LOVES_WARMTH:
        return {ShelterKind.FROST_FREE: 7, ShelterKind.COLD: 0, ShelterKind.OPEN_GROUND: -7}[kind]
    return _green_grace(kind, stock)


def _green_grace(kind: ShelterKind, stock: Stock) -> int | None:
    """Give the days of grace of green stock in the three cooler shelters [days]."""
    if stock.material is Material.UNROOTED:
        # A cutting must first root; it needs warmth more than light.
        return {ShelterKind.FROST_FREE: 14, ShelterKind.COLD: 0, ShelterKind.OPEN_GROUND: -14}[kind]
    if stock.raised is Raised.IN_HEAT:
        return {ShelterKind.FROST_FREE: 28, ShelterKind.COLD: 0, ShelterKind.OPEN_GROUND: 0}[kind]
    if stock.raised is Raised.COOL:
        return {ShelterKind.FROST_FREE: None, ShelterKind.COLD: 14, ShelterKind.OPEN_GROUND: 0}[
            kind
        ]
    return {ShelterKind.FROST_FREE: None, ShelterKind.COLD: 28, ShelterKind.OPEN_GROUND: 0}[kind]
