"""What is said of a mail server, and of a letter that tries it."""

from collections.abc import Mapping
from types import MappingProxyType

_FAULTS: Mapping[str, str] = MappingProxyType(
    {
        "unreachable": "It cannot be reached; look at its name and its port.",
        "sign_in": "It does not accept the name or the password.",
        "not_private": "It offers no private line on this port; 587 and 465 are usual.",
        "address": "It does not take one of the two addresses.",
        "later": "It says “not now”; it may take letters later.",
        "refused": "It does not take the letter.",
    }
)


def fault(kind: str, answer: str) -> str:
    """Say why a mail server took no letter, and what it answered."""
    return f"{_FAULTS[kind]} It answered: {answer}"


def trial_letter(circle: str) -> tuple[str, str]:
    """Give the subject and text of the letter that tries a mail server."""
    return (
        f"{circle}: a test letter",
        f"This letter tries the mail server of {circle}. That you can read it means that letters arrive.\n",
    )
