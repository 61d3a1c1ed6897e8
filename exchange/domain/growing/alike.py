"""Near names among many: what `near` gives, found without comparing every pair letter by letter."""

from collections.abc import Iterable

import numpy as np
from numpy.typing import NDArray

from exchange.domain.growing.names import (
    NEAR_RATIO,
    SHORTEST_PART,
    fold,
    fold_accents,
    likeness,
)

_LETTERS = 128
"""Into how many counts the letters of a name are sorted; letters that share one only cost time [1]."""

_ROUNDED = 1e-9


class AlikeNames:
    """Names in which near ones are looked for; more can be added."""

    def __init__(self, names: Iterable[str] = ()) -> None:
        """Know the names, each once."""
        self._names: list[str] = []
        self._folded: list[str] = []
        self._plain: list[str] = []
        self._counts: NDArray[np.int16] = np.zeros((64, _LETTERS), np.int16)
        self._lengths: NDArray[np.int16] = np.zeros(64, np.int16)
        self._by_plain: dict[str, list[int]] = {}
        self._there: set[str] = set()
        for one in names:
            self.add(one)

    def add(self, name: str) -> None:
        """Know one more name."""
        if name in self._there:
            return
        at = len(self._names)
        if at == len(self._lengths):
            self._counts = np.vstack([self._counts, np.zeros_like(self._counts)])
            self._lengths = np.concatenate([self._lengths, np.zeros_like(self._lengths)])
        plain = fold_accents(name)
        self._there.add(name)
        self._names.append(name)
        self._folded.append(fold(name))
        self._plain.append(plain)
        self._counts[at] = _counted(plain)
        self._lengths[at] = len(plain)
        self._by_plain.setdefault(plain, []).append(at)

    def near(self, name: str, most: int = 4) -> tuple[str, ...]:
        """Give what `names.near` gives of these names.

        Parameters
        ----------
        most : how many to give [names]
        """
        own, wanted = fold(name), fold_accents(name)
        found = {
            self._names[at]: ratio
            for at in self._candidates(wanted)
            if self._folded[at] != own and (ratio := likeness(wanted, self._plain[at]))
        }
        return tuple(sorted(found, key=lambda other: (-found[other], other))[:most])

    def _candidates(self, wanted: str) -> Iterable[int]:
        """Give the names that share enough letters with one, hold it, or are held in it."""
        number = len(self._names)
        if not number:
            return ()
        lengths = self._lengths[:number]
        shared = np.minimum(self._counts[:number], _counted(wanted)).sum(axis=1, dtype=np.int32)
        alike = 2 * shared >= (NEAR_RATIO - _ROUNDED) * (lengths + len(wanted))
        # Letters of the shorter in the longer, all of them: it may be part of it.
        part = shared >= np.minimum(lengths, len(wanted))
        part &= np.minimum(lengths, len(wanted)) >= SHORTEST_PART
        return (int(at) for at in np.flatnonzero(alike | part))


def _counted(plain: str) -> NDArray[np.int16]:
    codes = np.frombuffer(plain.encode("utf-32-le"), np.uint32) % _LETTERS
    return np.bincount(codes, minlength=_LETTERS).astype(np.int16)
