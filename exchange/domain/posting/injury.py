"""What cold, heat and darkness do to plants, by species, material and how they were raised.

The critical tissue temperatures are judgement, drawn from published handling advice for cuttings,
tubers and young plants; docs/figures.md says from which.
"""

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from exchange.domain.growing.batch import GREEN, Material, Raised
from exchange.domain.growing.variety import BEGONIAS, Species

Array = NDArray[np.float64]

COLD_ALARM_LOSS, COLD_REFUSE_LOSS = 0.01, 0.30
HEAT_ALARM_LOSS, HEAT_REFUSE_LOSS = 0.005, 0.10
DARK_TARGET_LOSS, DARK_HARD_LOSS = 0.005, 0.05
RAISED_SHIFT_K = {Raised.IN_HEAT: 1.0, Raised.COOL: 0.0, Raised.HARDENED: -1.0}

_COLD = {
    (Species.DAHLIA, "unrooted"): (5.0, 2.0),
    (Species.DAHLIA, "green"): (4.0, 1.0),
    (Species.DAHLIA, "resting"): (3.0, 0.0),
    (Species.PELARGONIUM, "any"): (4.0, 0.0),
    (Species.FUCHSIA, "any"): (5.0, 1.0),
    (Species.CHRYSANTHEMUM, "any"): (1.0, -0.5),
    (Species.SALVIA, "any"): (5.0, 1.0),
    (Species.SALVIA, "resting"): (3.0, 0.0),
    (Species.COLEUS, "unrooted"): (10.0, 6.0),
    (Species.COLEUS, "green"): (10.0, 6.0),
    **{(kind, form): (10.0, 6.0) for kind in BEGONIAS for form in ("unrooted", "green")},
}
_COLD_OTHER = {"unrooted": (10.0, 6.0), "green": (10.0, 6.0), "resting": (5.0, 2.0)}
_HEAT = {"unrooted": (20.0, 25.0), "green": (24.0, 29.0), "resting": (25.0, 30.0)}
_DARK = {"unrooted": (2.0, 3.0), "green": (3.0, 5.0), "resting": (7.0, 10.0)}


@dataclass(frozen=True, slots=True)
class Tolerance:
    """The cold, heat and darkness that one kind of stock tolerates.

    Attributes
    ----------
    cold, heat : tissue temperature at which to be alarmed, and at which not to send [degrees C]
    dark : days in the dark aimed at, and the longest allowed [d]
    """

    cold: tuple[float, float]
    heat: tuple[float, float]
    dark: tuple[float, float]


def _form(material: Material) -> str:
    if material is Material.UNROOTED:
        return "unrooted"
    return "green" if material in GREEN else "resting"


def tolerance(species: Species, material: Material, raised: Raised) -> Tolerance:
    """Find what stock tolerates; an unlisted species takes the most careful figures."""
    form = _form(material)
    alarm, refuse = _COLD.get((species, form)) or _COLD.get((species, "any")) or _COLD_OTHER[form]
    shift = 0.0 if form == "resting" else RAISED_SHIFT_K[raised]
    return Tolerance((alarm + shift, refuse + shift), _HEAT[form], _DARK[form])


def curve(at: tuple[float, float], losses: tuple[float, float]) -> tuple[float, float]:
    """Lay a logistic curve through two points; give its intercept and slope in log-odds."""
    low, high = (math.log(loss / (1 - loss)) for loss in losses)
    slope = (high - low) / (at[1] - at[0])
    return low - slope * at[0], slope


@dataclass(frozen=True, slots=True)
class ToleranceCurves:
    """The three curves of a tolerance, each as intercept and slope in log-odds."""

    cold: tuple[float, float]
    heat: tuple[float, float]
    dark: tuple[float, float]


def curves(stands: Tolerance) -> ToleranceCurves:
    """Turn what stock tolerates into its three curves of loss."""
    return ToleranceCurves(
        curve(stands.cold, (COLD_ALARM_LOSS, COLD_REFUSE_LOSS)),
        curve(stands.heat, (HEAT_ALARM_LOSS, HEAT_REFUSE_LOSS)),
        curve(stands.dark, (DARK_TARGET_LOSS, DARK_HARD_LOSS)),
    )


def kept(line: tuple[float, float] | tuple[Array, Array], at: Array | float) -> Array:
    """Give the chance of living through a lowest or highest core temperature, or days in the dark."""
    intercept, slope = line
    # Beyond 500 in log-odds the chance is 0 or 1, and exp would overflow.
    chance: Array = 1 / (1 + np.exp(np.clip(intercept + slope * np.asarray(at), -500.0, 500.0)))
    return chance


def loss(
    kind: ToleranceCurves, low: Array | float, high: Array | float, dark_days: Array | float
) -> Array:
    """Give the chance of loss from the lowest and highest core temperature and days in the dark."""
    return 1 - kept(kind.cold, low) * kept(kind.heat, high) * kept(kind.dark, dark_days)
