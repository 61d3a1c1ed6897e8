"""A row of a file as it was understood, and every field of it that has to be asked about."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from types import MappingProxyType

from exchange.domain.spreadsheet.choices import RowKind


class RowState(StrEnum):
    """Where a row stands."""

    READY = "ready"
    ASKED = "asked"
    REFUSED = "refused"
    OUT = "out"
    THERE = "there"


class RowDoubt(StrEnum):
    """A field that is asked about; an answer to one settles no other."""

    WHAT = "what"
    COUNT = "count"
    MATERIAL = "material"
    RAISED = "raised"
    NAME = "name"
    SPECIES = "species"
    WHOSE = "whose"
    CHOICE = "choice"
    READY_FROM = "ready_from"
    SEND_BY = "send_by"
    MAY_GO = "may_go"
    PERSON = "person"
    TOWN = "town"
    EMAIL = "email"
    KEEPS = "keeps"
    COLUMNS = "columns"


class RowWhy(StrEnum):
    """Why a row is asked about, left out or refused."""

    NONE = ""
    TOTAL = "total"
    HEADING = "heading"
    NONE_LEFT = "none left"
    PROMISED = "promised"
    REPEATED = "repeated"
    UNCERTAIN = "uncertain"
    MERGED = "merged"
    ERROR = "error"
    UNFINISHED = "unfinished"
    TOO_LONG = "too long"
    TOO_WIDE = "too wide"
    NO_NAME = "no name"
    COUNT = "count"
    SEED = "seed"
    NO_PLACE = "no place"
    WINDOW = "window"
    TWO_PEOPLE = "two people"
    EARLIER = "earlier"
    STANDS = "stands"
    LIKE_ANOTHER = "like another"
    CHOSEN = "chosen"
    MEMBER_FIRST = "member first"
    ACT = "act"


@dataclass(frozen=True, slots=True)
class RowRead:
    """One row, or one cell of a cross-table.

    Attributes
    ----------
    key : what tells it from all others of the file
    number : of the row in its sheet, from 1
    text : what is written there
    said : what was understood, by field
    sentence : why an act refused it
    sha : hash of what it holds, by which it is known again
    """

    key: str
    sheet: str
    number: int
    kind: RowKind
    text: str
    said: Mapping[str, str] = field(default_factory=lambda: MappingProxyType({}))
    doubts: frozenset[RowDoubt] = frozenset()
    state: RowState = RowState.READY
    why: RowWhy = RowWhy.NONE
    sentence: str = ""
    sha: str = ""
