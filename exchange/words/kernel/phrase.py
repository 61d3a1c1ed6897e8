"""Small helpers that sentences share: numbers with their noun, lists, the full stop."""

from collections.abc import Sequence

NBSP = "\u00a0"


def counted(number: int, one: str, many: str) -> str:
    """Give the number with its noun: "1 plant", "3 plants"."""
    return f"{number}{NBSP}{one if number == 1 else many}"


def listed(parts: Sequence[str]) -> str:
    """Join parts as in speech: "a", "a and b", "a, b and c"."""
    if len(parts) < 2:
        return "".join(parts)
    return "{first} and {last}".format(first=", ".join(parts[:-1]), last=parts[-1])


def as_sentence(text: str) -> str:
    """Give the text with a capital and a full stop."""
    text = text.strip()
    if not text:
        return ""
    return text[0].upper() + text[1:] + ("" if text[-1] in ".?!" else ".")
