"""Which shelter fits which stock, from which day.

Stock raised in heat collapses in one cold night, hardened stock does not. A shelter that does not fit yet moves the
day; it refuses only when no day fits. All days of grace here are judgement; docs/figures.md lists them.
"""

from dataclasses import dataclass
from datetime import date, timedelta

from exchange.domain.growing.batch import RESTING, Material, Raised
from exchange.domain.growing.season import WAITS_FOR_WARM_NIGHTS, Season
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


@dataclass(frozen=True, slots=True)
class OutFrom:
    """From when plants may stand outdoors at a place; None where that is unknown or never comes.

    Attributes
    ----------
    planting_out : dahlias and the like
    warm_nights : coleus and foliage begonias, which wait for nights of 10 degrees C
    short_summer : those keep under glass all the same, since such nights are over too soon
    """

    planting_out: date | None = None
    warm_nights: date | None = None
    short_summer: bool = False

    @classmethod
    def of(cls, season: Season) -> "OutFrom":
        """Take it from the growing year of a place."""
        known = [day for day in (season.planting_out, season.nights_10) if day is not None]
        return cls(season.planting_out, max(known) if len(known) == 2 else None, season.under_glass)


def fit_from(kind: ShelterKind, stock: Stock, out: OutFrom | None) -> date | None:
    """Give the first day on which a shelter of this kind fits the stock.

    Parameters
    ----------
    out : from when plants may stand outdoors at the place, or None when unknown

    Returns
    -------
    the day, `ALWAYS`, or None when no day is known to fit
    """
    grace = _days_before_safe(kind, stock)
    if grace is None:
        return ALWAYS
    waits = stock.species in WAITS_FOR_WARM_NIGHTS and stock.material not in RESTING
    if out is None or (waits and out.short_summer and kind is ShelterKind.OPEN_GROUND):
        return None
    day = out.warm_nights if waits else out.planting_out
    return None if day is None else day - timedelta(days=grace)


def coldest_fit(stock: Stock, day: date, out: OutFrom | None) -> ShelterKind:
    """Give the coldest kind of shelter that fits the stock on the day; every warmer kind fits too."""
    fits = ShelterKind.HEATED
    # The three warmest fit any stock on any day.
    for kind in WARM_TO_COLD[3:]:
        first = fit_from(kind, stock, out)
        if first is None or first > day:
            break
        fits = kind
    return fits


def fits_at_place(shelters: tuple[Shelter, ...], stock: Stock, out: OutFrom | None) -> date | None:
    """Give the first day on which any shelter of a place fits; a place with none given counts as indoors."""
    if not shelters:
        return ALWAYS
    days = [fit_from(stands_as(shelter), stock, out) for shelter in shelters]
    known = [day for day in days if day is not None]
    return min(known) if known else None


def _days_before_safe(kind: ShelterKind, stock: Stock) -> int | None:
    """Say how long before plants may stand outdoors the shelter fits [days]; None: on every day."""
    if kind in (ShelterKind.PROPAGATOR, ShelterKind.INDOORS, ShelterKind.HEATED):
        return None
    if stock.material is Material.SEED:
        return None
    if stock.material in RESTING:
        return {ShelterKind.FROST_FREE: None, ShelterKind.COLD: 28, ShelterKind.OPEN_GROUND: 14}[
            kind
        ]
    if stock.species in WAITS_FOR_WARM_NIGHTS:
        # Counted from nights of 10 degrees C outdoors: glass gains a fortnight, a little heat another.
        return {ShelterKind.FROST_FREE: 28, ShelterKind.COLD: 14, ShelterKind.OPEN_GROUND: 0}[kind]
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
