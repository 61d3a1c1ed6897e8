"""Words of a line that were not understood: some change nothing, all others are asked about."""

import re

_HARMLESS = frozenset({
    "a", "an", "and", "the", "of", "in", "on", "at", "from", "with", "my", "our", "own", "is",
    "are", "all", "they", "them", "these", "it", "its", "very", "quite", "really", "lovely",
    "nice", "good", "fine", "great", "strong", "healthy", "big", "large", "small", "little",
    "tiny", "tall", "short", "bushy", "sturdy", "labelled", "labels", "label", "named", "pot",
    "pots", "tray", "trays", "module", "modules", "cell", "cells", "water", "sand", "compost",
    "vermiculite", "colour", "color", "colours", "flowers", "flower", "flowering", "flowered",
    "red", "pink", "white", "yellow", "orange", "purple", "dark", "pale", "bright", "double",
    "single", "old", "mother", "mother's", "plant", "plants", "garden", "shed", "stock", "as",
    "usual", "please", "thanks", "thank", "you", "i", "i've", "have", "we", "we've", "can",
    "could", "offer", "spare", "spares", "to", "give", "let", "well", "grown", "true", "name",
    "no", "virus", "symptoms", "damage", "pests", "clean", "here", "there", "what", "also", "too",
    "still", "ready", "now", "yours", "hello", "hi", "dear",
})  # fmt: skip


_JOINERS = frozenset({
    "of", "the", "de", "la", "le", "du", "des", "von", "van", "der", "and", "in", "to", "d", "o",
    "a", "at", "on", "my",
})  # fmt: skip


def harmless(text: str) -> bool:
    """Say whether words that were not understood change nothing of number, plant or promise."""
    # "from Maud" says where they come from.
    words = re.sub(r"\bfrom\s+[A-Z]\w+", " ", text).split()
    return all(
        one.strip("'’.!*") in _HARMLESS for one in words if any(sign.isalnum() for sign in one)
    )


def odd_name(name: str, *, known_inside: bool) -> bool:
    """Say whether an unknown name seems to hold other words, or two names.

    Parameters
    ----------
    known_inside : whether a name the circle knows stands in it
    """
    words = name.split()
    if any(
        one.casefold() in {"and", "or", "&", "/", "+", "x", "×", "syn", "syn.", "aka"}
        for one in words
    ):
        return True
    lower = [one for one in words if one[:1].islower() and one.strip("'’") not in _JOINERS]
    return bool(lower) and (known_inside or len(lower) < len(words))
