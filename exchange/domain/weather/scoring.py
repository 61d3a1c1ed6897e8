"""How good a forecast was: the continuous ranked probability score and the Brier score's parts.

References
----------
[1] Gneiting and Raftery 2007, Journal of the American Statistical Association 102:359.
[2] Murphy 1973, Journal of Applied Meteorology 12:595.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from statistics import NormalDist

_STANDARD = NormalDist()


def crps_normal(observed: float, mean: float, sd: float) -> float:
    """Give the CRPS of a normal forecast, 0 for a perfect one [unit of the quantity].

    s (z (2 Phi(z) - 1) + 2 phi(z) - 1 / sqrt(pi)) with z = (y - m) / s.
    """
    z = (observed - mean) / sd
    inner = z * (2.0 * _STANDARD.cdf(z) - 1.0) + 2.0 * _STANDARD.pdf(z) - 1.0 / math.sqrt(math.pi)
    return sd * inner


@dataclass(frozen=True, slots=True)
class Brier:
    """The Brier score and Murphy's parts: value = reliability - resolution + uncertainty.

    Attributes
    ----------
    skill : 1 - value / uncertainty, None when every outcome was the same
    """

    value: float
    reliability: float
    resolution: float
    uncertainty: float
    skill: float | None


def brier(chances: Sequence[float], outcomes: Sequence[bool]) -> Brier:
    """Give the Brier score of stated chances with its parts, grouped by equal chances [2].

    Parameters
    ----------
    chances : stated, 0 to 1, shape (n,)
    outcomes : what came about, shape (n,)

    Raises
    ------
    ValueError
        when there is nothing to score
    """
    if not chances:
        raise ValueError("There is nothing to compare yet.")
    count = len(chances)
    value = math.fsum((p - o) ** 2 for p, o in zip(chances, outcomes, strict=True)) / count
    groups: dict[float, list[bool]] = {}
    for chance, outcome in zip(chances, outcomes, strict=True):
        groups.setdefault(chance, []).append(outcome)
    rate = sum(outcomes) / count
    shares = [(p, sum(group) / len(group), len(group)) for p, group in groups.items()]
    reliability = math.fsum(n * (p - o) ** 2 for p, o, n in shares) / count
    resolution = math.fsum(n * (o - rate) ** 2 for _p, o, n in shares) / count
    uncertainty = rate * (1.0 - rate)
    skill = 1.0 - value / uncertainty if uncertainty else None
    return Brier(value, reliability, resolution, uncertainty, skill)


@dataclass(frozen=True, slots=True)
class Bin:
    """One tenth of a reliability table.

    Attributes
    ----------
    low, high : bounds of the stated chance
    nights : how many [nights]
    stated, came : mean stated chance, and share in which it came about
    """

    low: float
    high: float
    nights: int
    stated: float
    came: float


def reliability_table(chances: Sequence[float], outcomes: Sequence[bool]) -> tuple[Bin, ...]:
    """Give, for each tenth of stated chance that occurs, what was stated and what came about."""
    tenths: dict[int, list[tuple[float, bool]]] = {}
    for chance, outcome in zip(chances, outcomes, strict=True):
        tenths.setdefault(min(9, int(chance * 10.0)), []).append((chance, outcome))
    return tuple(
        Bin(
            low=tenth / 10.0,
            high=(tenth + 1) / 10.0,
            nights=len(pairs),
            stated=math.fsum(chance for chance, _outcome in pairs) / len(pairs),
            came=sum(outcome for _chance, outcome in pairs) / len(pairs),
        )
        for tenth, pairs in sorted(tenths.items())
    )
