"""What the papers say, as plain words and numbers; the print pages read the very same values."""

from dataclasses import dataclass
from enum import StrEnum


class PageSize(StrEnum):
    """The two sheets members print on."""

    A4 = "a4"
    LETTER = "letter"


@dataclass(frozen=True, slots=True)
class SlipLine:
    """One kind of plant in the box.

    Attributes
    ----------
    count : plants [plants]
    label : the short mark that stands on the pot label too
    """

    count: int
    variety: str
    sent_as: str
    label: str


@dataclass(frozen=True, slots=True)
class PackingList:
    """What to see to before the box is closed, for one kind of material."""

    heading: str
    points: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Slip:
    """A packing slip.

    Attributes
    ----------
    title : "For Colin, from Maud"
    when : "Post on Tue 27 April by 4 pm. First class, small parcel."
    weather : sentences: the rule when to wait, and where its figures come from
    address : lines of the receiver's address for the outside; empty when carried by hand
    return_address : lines of the sender's address; empty unless the sender allows them outside
    """

    circle: str
    code: str
    title: str
    when: str
    lines: tuple[SlipLine, ...]
    packing: tuple[PackingList, ...]
    weather: tuple[str, ...]
    address: tuple[str, ...] = ()
    return_address: tuple[str, ...] = ()
    lang: str = "en-GB"


@dataclass(frozen=True, slots=True)
class SheetStep:
    """One step of care: when, what in bold, the rest of it, and for which plants, if not all."""

    when: str
    title: str
    text: str
    whom: str = ""


@dataclass(frozen=True, slots=True)
class SheetNight:
    """One night of the table on a care sheet; cold ones are set in bold."""

    night: str
    low: str
    frost: str
    stand: str
    cold: bool = False


@dataclass(frozen=True, slots=True)
class CareSheet:
    """A care sheet.

    Attributes
    ----------
    title : "Open at once, Colin"
    lead : what came and the one thing that can go wrong
    nights_note : where the figures come from; stands also where there are no nights
    """

    circle: str
    code: str
    title: str
    lead: str
    steps: tuple[SheetStep, ...]
    nights_title: str
    nights_note: str
    nights: tuple[SheetNight, ...]
    cautions: tuple[str, ...]
    lang: str = "en-GB"


@dataclass(frozen=True, slots=True)
class PotLabel:
    """One label for a pot: the name large, the mark, and one line under them."""

    variety: str
    label: str
    detail: str
