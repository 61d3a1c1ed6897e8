"""A letter in the organiser's own words: the greeting before it, the signature under it."""

from exchange.words.kernel.letters import LetterReader
from exchange.words.kernel.phrase import counted

_BREAK = "\n\n"


def signature(first_name: str, circle: str) -> str:
    """Give "Winnie, for The Lowmoor Circle"."""
    return f"{first_name}, for {circle}" if first_name else circle


def body(reader: LetterReader, text: str, by: str) -> str:
    """Give the whole letter to one reader."""
    return f"Dear {reader.first_name},{_BREAK}{text}{_BREAK}{by}\n"


def without_greeting(letter: str) -> str:
    """Give the letter as it can go into a group mail."""
    return letter.partition(_BREAK)[2].rstrip("\n")


def members(number: int) -> str:
    """Give "14 members"."""
    return counted(number, "member", "members")


def written(by_mail: int, by_hand: int) -> str:
    """Say how a letter goes to its readers: "11 by mail, 3 to hand over"."""
    parts = [f"{by_mail} by mail"] if by_mail else []
    return ", ".join([*parts, f"{by_hand} to hand over"] if by_hand else parts)
