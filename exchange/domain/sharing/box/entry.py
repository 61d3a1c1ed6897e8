"""One line of the box as it was understood, and every field of it that has to be asked about."""

from dataclasses import dataclass
from enum import StrEnum

from exchange.domain.growing.batch import Material, Raised
from exchange.domain.growing.variety import Species

MOST_PLANTS_A_LINE = 1000
"""Most plants one listed spare may hold; the records refuse more (judgement) [plants]."""

MOST_LINES = 200
"""Most lines read from one box (judgement) [lines]."""

LONGEST_LINE = 300
"""Longest line read; no spare needs more to be named (judgement) [characters]."""


class What(StrEnum):
    """What a line is."""

    SPARE = "spare"
    WISH = "wish"
    OUT = "out"


class BoxDoubt(StrEnum):
    """A field that is asked about; an answer to one settles no other."""

    WHAT = "what"
    COUNT = "count"
    MATERIAL = "material"
    RAISED = "raised"
    NAME = "name"
    WHOSE = "whose"


class Why(StrEnum):
    """Why a line is left out, or why it is asked whether it is one."""

    NOTHING_SAID = "nothing said"
    QUOTED = "quoted"
    SIGNATURE = "signature"
    HEADING = "heading"
    NONE_LEFT = "none left"
    PROMISED = "promised"
    REPEATED = "repeated"
    CORRECTED = "corrected"
    QUESTION = "question"
    UNCERTAIN = "uncertain"
    SEVERAL = "several"


@dataclass(frozen=True, slots=True)
class BoxEntry:
    """One line of the box.

    Attributes
    ----------
    number : line number in the box, from 1
    count : plants, None where none is read; where it is in doubt, the best reading [plants]
    material, species, raised : None where the line does not say
    leader : the member whose name leads the line or stands above it
    choice : of a wish, 1, 2 or 3, None where the line does not say
    named : whether the line holds a name the circle knows, or is a row of a table
    says_material : whether the line has a word for what is sent, be it an unclear one
    rest : what of the line was not understood and is not kept
    fault : "no name", "count" or "too long" for a line nothing can be made of
    """

    number: int
    text: str
    what: What
    why: Why | None = None
    count: int | None = None
    material: Material | None = None
    species: Species | None = None
    raised: Raised | None = None
    name: str = ""
    leader: str = ""
    choice: int | None = None
    named: bool = False
    says_material: bool = False
    rest: str = ""
    doubts: frozenset[BoxDoubt] = frozenset()
    fault: str = ""


class TooManyLinesError(ValueError):
    """The box holds more lines than are read at once.

    Attributes
    ----------
    lines : how many there are [lines]
    """

    def __init__(self, lines: int) -> None:
        super().__init__(f"{lines} lines are too many")
        self.lines = lines
