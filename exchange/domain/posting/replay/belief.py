"""What all forecasts so far tell of the coming nights at both ends.

The departures of two places are taken as one Gaussian process, correlated from night to night and
between the places as in the springs themselves. Every issue, and every night that has passed, is
taken in exactly (a Kalman filter in its steady state), so yesterday's forecast still counts today.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from exchange.domain.posting.replay.process import ERROR_CORRELATION, LEADS, skill
from exchange.domain.posting.replay.springs import DAYS, Springs

Array = NDArray[np.float64]

NIGHTS = 14
"""Nights ahead that are kept in mind."""
SETTLED = 60
"""Days after which the filter's gains no longer change."""
CLOSEST = 0.98
"""Correlation of two places at the most, so that the equations never become singular."""
TINY = 1e-7


@dataclass(frozen=True, slots=True)
class KalmanFilter:
    """The settled filter of two places; nights of the sender first, then the receiver's.

    Attributes
    ----------
    shift : moves the mean a day on
    issue, passed : gains from a new issue and from a night that has passed
    sees, saw : what an issue and a passed night observe
    spread : standard deviation after an issue, of each night
    stirred : how far a day's news may move the mean, as the square root of a covariance
    settled : covariance of the mean itself in the long run
    """

    shift: Array
    issue: Array
    passed: Array
    sees: Array
    saw: Array
    spread: Array
    stirred: Array
    settled: Array


def turned(rows: Array, matrix: Array) -> Array:
    """Give rows @ matrix.T on one thread; for matrices this small, waking others takes longer."""
    product: Array = np.einsum("ij,kj->ik", rows, matrix)
    return product


def correlations(springs: Springs) -> tuple[float, Array]:
    """Give the correlation from night to night, and that between the files."""
    departures = springs.anomalies()
    one = (departures[:, :, :-1] * departures[:, :, 1:]).mean()
    square = (departures**2).mean(axis=(1, 2))
    across = np.einsum("asn,bsn->ab", departures, departures) / departures[0].size
    return float(one / square.mean()), across / np.sqrt(np.outer(square, square))


def settled_filter(nightly: float, between: float) -> KalmanFilter:
    """Work out the filter for two places.

    Parameters
    ----------
    nightly, between : correlation from night to night, and between the two places
    """
    ends = np.array([[1.0, min(between, CLOSEST)], [min(between, CLOSEST), 1.0]])
    apart = np.abs(np.subtract.outer(np.arange(NIGHTS), np.arange(NIGHTS)))
    prior = _joined(ends, nightly**apart)
    shift = _joined(np.eye(2), _shift(nightly))
    fresh = np.kron(ends, np.diag([0.0] * (NIGHTS - 1) + [1 - nightly**2]))
    sees = _joined(np.eye(2), np.eye(LEADS, NIGHTS))
    saw = _joined(np.eye(2), np.eye(1, NIGHTS))
    noise = np.kron(np.ones((2, 2)), _noise()) + TINY * np.eye(2 * LEADS)
    before = prior
    for _ in range(SETTLED):
        issue, after = _taken_in(before, sees, noise)
        passed, known = _taken_in(after, saw, TINY * np.eye(2))
        before = shift @ known @ shift.T + fresh
    news = shift @ after @ shift.T + fresh - after
    spread = np.sqrt(np.clip(np.diag(after), TINY, None))
    return KalmanFilter(shift, issue, passed, sees, saw, spread, _root(news), _root(prior - after))


def _joined(ends: Array, nights: Array) -> Array:
    """Lay a matrix of nights out over both ends."""
    return np.asarray(np.kron(ends, nights), dtype=np.float64)


def _shift(nightly: float) -> Array:
    moved = np.eye(NIGHTS, k=1)
    moved[-1, -1] = nightly
    return moved


def _noise() -> Array:
    explained = skill()
    spread = np.sqrt((1 - explained) / explained)
    apart = np.abs(np.subtract.outer(np.arange(LEADS), np.arange(LEADS)))
    noise: Array = np.outer(spread, spread) * ERROR_CORRELATION**apart
    return noise


def _taken_in(before: Array, sees: Array, noise: Array) -> tuple[Array, Array]:
    """Give the gain of an observation and the covariance after it."""
    solved = np.linalg.solve(sees @ before @ sees.T + noise, sees @ before)
    gain = np.asarray(solved.T, dtype=np.float64)
    after = before - gain @ sees @ before
    return gain, (after + after.T) / 2


def _root(covariance: Array) -> Array:
    values, vectors = np.linalg.eigh((covariance + covariance.T) / 2)
    root: Array = vectors * np.sqrt(np.clip(values, 0, None))
    return root


def means(springs: Springs, drawn: Array, ends: tuple[int, int], known: KalmanFilter) -> Array:
    """Follow the mean over all springs.

    Parameters
    ----------
    drawn : forecasts as `process.forecasts` gives them

    Returns
    -------
    array (springs, days, 2 x NIGHTS)
        standard departures expected, after that day's issue; the last ten days are not a number
    """
    departures, explained = springs.anomalies(), skill()
    mean = np.zeros((len(springs.years), 2 * NIGHTS))
    found = np.full((len(springs.years), DAYS, 2 * NIGHTS), np.nan)
    for day in range(DAYS - LEADS):
        nights = slice(day, day + LEADS)
        told = [
            (drawn[end, :, day] - springs.usual[end, nights])
            / springs.spread[end, nights]
            / explained
            for end in ends
        ]
        news = np.concatenate(told, axis=1) - turned(mean, known.sees)
        mean = mean + turned(news, known.issue)
        found[:, day] = mean
        night = np.stack([departures[end, :, day] for end in ends], axis=1)
        mean = mean + turned(night - turned(mean, known.saw), known.passed)
        mean = turned(mean, known.shift)
    return found
