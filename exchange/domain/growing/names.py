"""Names of varieties: the same name is found, a near one is asked about, none is ever merged."""

import unicodedata
from collections.abc import Iterable
from difflib import SequenceMatcher

LONGEST_NAME = 60
"""Longest name taken; the Code allows an epithet 30 characters, old and trade names run longer [characters]."""

NEAR_RATIO = 0.82
"""How alike two folded names must be to be asked about (judgement) [1]."""

SHORTEST_PART = 4
"""Shortest name that is asked about for being part of another (judgement) [characters]."""

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


def tidied(name: str) -> str:
    """Give a name as it is kept: no quotation marks around it, one space between words, nothing unseen.

    Parameters
    ----------
    name : as typed or pasted
    """
    return one_line(unicodedata.normalize("NFC", name)).strip(_QUOTES + " ")


def one_line(text: str) -> str:
    """Give text as one line, without signs that cannot be seen."""
    seen = "".join(one for one in text if one.isprintable() or one.isspace())
    return " ".join(seen.split())


def near(name: str, known: Iterable[str], most: int = 4) -> tuple[str, ...]:
    """Give known names that may be meant, the most alike first, without the name itself.

    Parameters
    ----------
    name : as typed
    known : names of the circle
    most : how many to give [names]
    """
    own, wanted = fold(name), fold_accents(name)
    alike = {
        other: ratio
        for other in known
        if fold(other) != own and (ratio := likeness(wanted, fold_accents(other)))
    }
    return tuple(sorted(alike, key=lambda other: (-alike[other], other))[:most])


def likeness(wanted: str, other: str) -> float:
    """Give how alike two names with folded accents are, 0 where they are too unlike to be asked about [0 to 1]."""
    shorter, longer = sorted((wanted, other), key=len)
    part = len(shorter) >= SHORTEST_PART and shorter in longer
    matcher = SequenceMatcher(None, wanted, other, autojunk=False)
    if not part and min(matcher.real_quick_ratio(), matcher.quick_ratio()) < NEAR_RATIO:
        return 0.0
    ratio = matcher.ratio()
    if part:
        return max(ratio, NEAR_RATIO)
    return ratio if ratio >= NEAR_RATIO else 0.0
