"""Ground frost from the screen minimum, as a logistic curve instead of a fixed difference."""

import math
from dataclasses import dataclass

import numpy as np

_NODES, _WEIGHTS = np.polynomial.hermite_e.hermegauss(24)


@dataclass(frozen=True, slots=True)
class GrassCurve:
    """The chance of a minimum below 0 near the ground, by the minimum in the screen.

    Attributes
    ----------
    even_at_c : screen minimum at which ground frost is as likely as not [degrees C]
    width_k : how slowly the chance falls around it [K]
    """

    even_at_c: float
    width_k: float

    def chance(self, screen_c: float) -> float:
        """Give the chance of ground frost at a screen minimum [degrees C]."""
        return 1.0 / (1.0 + math.exp((screen_c - self.even_at_c) / self.width_k))

    def chance_over(self, mean_c: float, sd_k: float) -> float:
        """Give the chance of ground frost when the screen minimum is a predictive normal.

        By 24-point Gauss-Hermite quadrature.
        """
        chances = [self.chance(mean_c + sd_k * float(node)) for node in _NODES]
        return float(np.dot(_WEIGHTS, chances) / _WEIGHTS.sum())


GRASS = GrassCurve(even_at_c=1.67, width_k=0.84)
"""Middle of three stations, March to June 1991-2024: short grass at Dublin Airport, 10 cm over grass
at Hoogeveen and Herwijnen (logistic fit by likelihood, each station with the same weight)."""
