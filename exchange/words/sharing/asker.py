"""Whom a sentence about a claim is said to or of: "you" only to its own household, else its household by name."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Asker:
    """The household of a claim, as a reader calls it.

    Attributes
    ----------
    name : first names, where somebody else reads; empty where the household itself does
    """

    name: str = ""

    @property
    def you(self) -> str:
        """Give "you", or the name."""
        return self.name or "you"

    @property
    def your(self) -> str:
        """Give "your", or the name's possessive."""
        return f"{self.name}’s" if self.name else "your"

    @property
    def yours(self) -> str:
        """Give "yours", or the name's possessive."""
        return f"{self.name}’s" if self.name else "yours"


YOU = Asker()
GONE = "a household that left"
"""In place of a name."""
