"""Names of varieties: the same name is found, a near one is asked about, none is ever merged."""

import unicodedata
from collections.abc import Iterable, Mapping
from difflib import SequenceMatcher

LONGEST_NAME = 60
"""Longest name taken; the Code allows an epithet 30 characters, old and trade names run longer [characters]."""

NEAR_RATIO = 0.82
"""How alike two folded names must be to be asked about (judgement) [1]."""

_QUOTES = "'\"`´‘’‚‛“”„‟′″«»‹›"
_DASHES = "-‐‑‒–—―−"


def fold(name: str) -> str:
    """Fold case, quotation marks, dashes and spaces, and nothing else.

    Two spellings with the same folded name are one name.

    Parameters
    ----------
    name : as its grower wrote it

    Returns
    -------
    folded name
    """
    text = unicodedata.normalize("NFKC", name).casefold()
    text = "".join(" " if one in _DASHES else one for one in text if one not in _QUOTES)
    return " ".join(text.split())


def fold_accents(name: str) -> str:
    """Fold accents and full stops as well; only for suggesting, never for finding."""
    decomposed = unicodedata.normalize("NFKD", fold(name))
    kept = (one for one in decomposed if not unicodedata.combining(one) and one != ".")
    return " ".join("".join(kept).split())


def near(name: str, known: Iterable[str], most: int = 4) -> tuple[str, ...]:
    """Give known names that may be meant, the most alike first, without the name itself.

    Parameters
    ----------
    name : as typed
    known : names of the circle
    most : how many to give [names]
    """
    wanted = fold_accents(name)
    alike: list[tuple[float, str]] = []
    for other in known:
        if fold(other) == fold(name):
            continue
        folded = fold_accents(other)
        ratio = SequenceMatcher(None, wanted, folded).ratio()
        part = len(wanted) >= 4 and (wanted in folded or folded in wanted) and len(folded) >= 4
        if ratio >= NEAR_RATIO or part:
            alike.append((-max(ratio, NEAR_RATIO if part else 0.0), other))
    return tuple(other for _, other in sorted(alike)[:most])


def find(name: str, known: Mapping[str, int]) -> int | None:
    """Give the id whose folded name equals the typed one, or None."""
    return known.get(fold(name))
