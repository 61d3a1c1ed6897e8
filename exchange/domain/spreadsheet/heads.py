"""Headings of columns: what each is taken for, and whether that is sure."""

import re
from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum

from exchange.domain.growing.names import fold_accents


class ColumnHead(StrEnum):
    """What a column holds; OTHER is not known, NOT_READ was said to be of no matter."""

    NAME = "name"
    SPECIES = "species"
    COUNT = "count"
    MATERIAL = "material"
    RAISED = "raised"
    WHOSE = "whose"
    CHOICE = "choice"
    READY_FROM = "ready_from"
    SEND_BY = "send_by"
    NOTE = "note"
    KEEPS = "keeps"
    MUST_NOT_BE_LOST = "must_not_be_lost"
    FIRST_NAME = "first_name"
    SURNAME = "surname"
    FULL_NAME = "full_name"
    TOWN = "town"
    EMAIL = "email"
    TELEPHONE = "telephone"
    MEMBER = "member"
    OTHER = "other"
    NOT_READ = "not_read"


_HEADS: tuple[tuple[ColumnHead, str], ...] = (
    (ColumnHead.NAME, r"(?:the )?(?:varieties|variety|cultivars?|plants?|plant name|name of (?:the )?(?:plant|variety)|sorts?|variety name|which plant|what)"),
    (ColumnHead.SPECIES, r"(?:kinds?|genus|species|kind of plant|type of plant|group)"),
    (ColumnHead.COUNT, r"(?:qty|quantity|numbers?|how many|count|no|nr|pieces|pcs|amount|spares?|spare plants|number of plants|number spare|how many spare|stock|asked|wanted|plants wanted|number wanted)"),
    (ColumnHead.MATERIAL, r"(?:sent as|as|form|material|what as|sort of plant|cutting tuber|cutting/tuber|offered as|stands as)"),
    (ColumnHead.RAISED, r"(?:raised|how raised|raising)"),
    (ColumnHead.WHOSE, r"(?:whose|who|members?|growers?|owners?|holders?|from|giver|donor|sender|offered by|wanted by|for|requested by|asked by|name of (?:the )?(?:member|grower))"),
    (ColumnHead.CHOICE, r"(?:choice|which choice|first second third|wish)"),
    (ColumnHead.READY_FROM, r"(?:ready|ready from|from when|available|available from|ready on)"),
    (ColumnHead.SEND_BY, r"(?:send by|post by|last day|until|latest|by when)"),
    (ColumnHead.NOTE, r"(?:notes?|remarks?|comments?)"),
    (ColumnHead.KEEPS, r"(?:keeps|how it keeps|keeping|storage)"),
    (ColumnHead.MUST_NOT_BE_LOST, r"(?:must not be lost|rare because|why it must not be lost)"),
    (ColumnHead.FIRST_NAME, r"(?:first names?|forenames?|given names?|christian names?)"),
    (ColumnHead.SURNAME, r"(?:surnames?|last names?|family names?|second name)"),
    (ColumnHead.FULL_NAME, r"(?:full names?|names?)"),
    (ColumnHead.TOWN, r"(?:towns?|city|place|where|post ?town|town or district|postal district)"),
    (ColumnHead.EMAIL, r"(?:e ?mails?|e ?mail address|mail|mail address)"),
    (ColumnHead.TELEPHONE, r"(?:tel|telephones?|phones?|mobile|telephone number|phone number)"),
)  # fmt: skip
_PATTERNS = tuple((head, re.compile(pattern)) for head, pattern in _HEADS)


@dataclass(frozen=True, slots=True)
class ColumnRead:
    """A column: its heading, an example out of it, and what it is taken for.

    Attributes
    ----------
    chosen : whether somebody has said so
    """

    word: str
    example: str
    head: ColumnHead
    chosen: bool = False


def head_of(word: str) -> ColumnHead:
    """Give what a heading by itself says; OTHER where it says nothing known."""
    plain = " ".join(re.sub(r"[^\w/]+", " ", fold_accents(word.replace("\ufeff", ""))).split())
    return next((head for head, pattern in _PATTERNS if pattern.fullmatch(plain)), ColumnHead.OTHER)


def twice(columns: Sequence[ColumnRead]) -> frozenset[ColumnHead]:
    """Give what more than one column is taken for."""
    heads = [one.head for one in columns]
    several = {ColumnHead.OTHER, ColumnHead.NOT_READ, ColumnHead.MEMBER, ColumnHead.NOTE}
    return frozenset(one for one in heads if heads.count(one) > 1 and one not in several)
