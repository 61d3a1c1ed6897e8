"""What cold, heat and darkness do to plants, by species, material and how they were raised.

Cold and heat are the lowest and the highest core temperature held for three hours (`held`). The critical temperatures
are judgement, drawn from published handling advice for cuttings, tubers and young plants; docs/figures.md says why for
each, and has a table of the losses.
"""

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from exchange.domain.growing.batch import GREEN, Material, Raised
from exchange.domain.growing.variety import Species

Array = NDArray[np.float64]

COLD_ALARM_LOSS, COLD_REFUSE_LOSS = 0.01, 0.30
HEAT_ALARM_LOSS, HEAT_REFUSE_LOSS = 0.005, 0.10
DARK_TARGET_LOSS, DARK_HARD_LOSS = 0.005, 0.05
RAISED_SHIFT_K = {Raised.IN_HEAT: 1.0, Raised.COOL: 0.0, Raised.HARDENED: -1.0}

_COLD = {
    (Species.DAHLIA, "unrooted"): (4.0, 1.0),
    (Species.DAHLIA, "green"): (2.8, 0.0),
    (Species.DAHLIA, "resting"): (0.5, -2.0),
    (Species.PELARGONIUM, "any"): (2.0, -1.0),
    (Species.PELARGONIUM, "resting"): (0.0, -3.0),
    (Species.FUCHSIA, "any"): (3.0, 0.0),
    (Species.FUCHSIA, "resting"): (0.5, -2.0),
    (Species.CHRYSANTHEMUM, "any"): (0.0, -2.0),
    (Species.CHRYSANTHEMUM, "resting"): (-2.0, -5.0),
    (Species.SALVIA, "any"): (3.0, 0.0),
    (Species.SALVIA, "resting"): (0.5, -2.0),
    (Species.TUBEROUS_BEGONIA, "unrooted"): (8.0, 3.5),
    (Species.TUBEROUS_BEGONIA, "green"): (7.0, 2.5),
}
_COLD_OTHER = {"unrooted": (9.0, 4.0), "green": (8.0, 3.0), "resting": (2.0, -0.5)}
_HEAT = {"unrooted": (22.0, 29.0), "green": (25.0, 33.0), "resting": (28.0, 36.0)}
_DARK = {"unrooted": (2.0, 3.0), "green": (3.0, 5.0), "resting": (7.0, 10.0)}


@dataclass(frozen=True, slots=True)
class Tolerance:
    """The cold, heat and darkness that one kind of stock tolerates.

    Attributes
    ----------
    cold, heat : core temperature, held for three hours, at which to be alarmed, and at which not to send
        [degrees C]
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
    """Find what stock tolerates; coleus, foliage begonias and unlisted species take the most careful figures."""
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
    """Give the chance of living through a core temperature held for three hours, or days in the dark."""
    intercept, slope = line
    # Beyond 500 in log-odds the chance is 0 or 1, and exp would overflow.
    chance: Array = 1 / (1 + np.exp(np.clip(intercept + slope * np.asarray(at), -500.0, 500.0)))
    return chance


def loss(
    kind: ToleranceCurves, low: Array | float, high: Array | float, dark_days: Array | float
) -> Array:
    """Give the chance of loss from the lowest and highest core temperature held, and days in the dark."""
    return 1 - kept(kind.cold, low) * kept(kind.heat, high) * kept(kind.dark, dark_days)


HELD_HOURS = 3
"""Hours in a row that a temperature must last to do the harm that the curves of loss speak of (judgement) [h]."""


@dataclass(slots=True)
class Held:
    """Cores followed hour by hour, and the extremes they have held so far.

    The lowest temperature held is the lowest of the highest values of any three hours in a row; the highest held
    is the opposite.

    Attributes
    ----------
    low, high : held so far [degrees C]
    before : the cores of the hours just gone, the latest last [degrees C]
    """

    low: Array
    high: Array
    before: tuple[Array, ...]

    @classmethod
    def steady(cls, core: Array) -> "Held":
        """Begin with cores that have been at their temperature for hours [degrees C]."""
        return cls(core.copy(), core.copy(), (core.copy(),) * (HELD_HOURS - 1))

    def add(self, core: Array) -> None:
        """Take the cores of the next hour [degrees C]."""
        top, bottom = core, core
        for earlier in self.before:
            top, bottom = np.maximum(top, earlier), np.minimum(bottom, earlier)
        np.minimum(self.low, top, out=self.low)
        np.maximum(self.high, bottom, out=self.high)
        self.before = (*self.before[1:], core.copy())

    def branch(self) -> "Held":
        """Give a journey that goes on by itself from here."""
        return Held(self.low.copy(), self.high.copy(), self.before)
