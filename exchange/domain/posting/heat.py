"""The warmth inside a parcel: one lumped core, exact for an ambient held constant in each step.

m c dT/dt = UA (Ta - T), tau = m c / UA. A damp wrap freezes at 0 C and holds the core there while its
latent heat lasts. Formulas are closed forms of that equation.
"""

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]


def core(heat: Array, latent: float) -> Array:
    """Give the core temperature for a heat content counted from unfrozen at 0 C [K]."""
    frozen: Array = np.minimum(heat + latent, 0.0)
    return np.maximum(heat, 0.0) + frozen


def damp_step(heat: Array, ambient: Array, tau: float, latent: float) -> Array:
    """Move heat contents one hour on, through freezing and thawing, exactly.

    Parameters
    ----------
    heat : heat content as the temperature it stands for, counted from unfrozen at 0 C [K]
    ambient : constant over the hour, same shape [degrees C]
    """
    # Most cores that have begun to freeze stay at the freezing point all hour: those are done at once.
    held = heat + ambient / tau
    moving = (heat > 0) | (heat < -latent) | (held > 0) | (held < -latent)
    held[moving] = _through(heat[moving], ambient[moving], tau, latent)
    return held


def _through(heat: Array, ambient: Array, tau: float, latent: float) -> Array:
    """Take cores through what they meet in the hour: cooling, freezing, frozen; or the way back."""
    left = np.ones_like(heat)
    cooling = ambient < 0
    _relax(heat, ambient, left, tau, (cooling & (heat > 0), 0.0))
    _freeze(heat, ambient, left, tau, (cooling, latent))
    _relax(heat, ambient, left, tau, ((heat < -latent) | (cooling & (heat <= -latent)), -latent))
    _freeze(heat, ambient, left, tau, (~cooling, latent))
    _relax(heat, ambient, left, tau, (~cooling & (heat >= 0), 0.0))
    return heat


def _relax(
    heat: Array, ambient: Array, left: Array, tau: float, where: tuple[NDArray[np.bool_], float]
) -> None:
    """Let chosen cores move towards the ambient until the hour or the freezing point ends it.

    The core temperature is the heat less a base: 0 unfrozen, minus the latent heat frozen.
    """
    chosen, base = where
    index = np.flatnonzero(chosen & (left > 0))
    if not index.size:
        return
    temperature, air, rest = heat[index] - base, ambient[index], left[index]
    crosses = temperature * air < 0
    safe = np.where(crosses, air, -1.0)
    ratio = np.where(crosses, (temperature - air) / -safe, 1.0)
    until = np.where(crosses, tau * np.log(ratio), np.inf)
    stops = until < rest
    moved = air + (temperature - air) * np.exp(-rest / tau)
    heat[index] = np.where(stops, 0.0, moved) + base
    left[index] = np.where(stops, rest - until, 0.0)


def _freeze(
    heat: Array, ambient: Array, left: Array, tau: float, where: tuple[NDArray[np.bool_], float]
) -> None:
    """Let chosen cores at 0 C freeze or thaw until the hour or the latent heat ends it."""
    chosen, latent = where
    index = np.flatnonzero(chosen & (left > 0) & (heat <= 0) & (heat >= -latent))
    if not index.size:
        return
    content, air, rest = heat[index], ambient[index], left[index]
    goal = np.where(air < 0, -latent, 0.0)
    rate = np.where(air == 0, 1.0, air / tau)
    until = np.where(air == 0, np.inf, (goal - content) / rate)
    stops = until < rest
    heat[index] = np.where(stops, goal, content + air / tau * rest)
    left[index] = np.where(stops, rest - until, 0.0)
