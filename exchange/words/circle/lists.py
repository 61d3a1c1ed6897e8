"""The circle's lists: their names, the heads of their columns, and as plain text."""

from collections.abc import Sequence
from datetime import date
from types import MappingProxyType

from exchange.domain.sharing.states import AllocationState
from exchange.words.kernel.phrase import NBSP

HEADS = MappingProxyType(
    {
        "varieties": ("Name", "Kind", "Over winter", "Must not be lost", "Why", "Wanted in places"),
        "spares": (
            "Variety", "Kind", "From", "Sent as", "Plants", "Promised", "Ready from", "Send by",
            "Set aside for", "Note",
        ),
        "claims": ("Variety", "Kind", "For", "Asked", "Given", "Choice", "No use after"),
        "stock": ("Variety", "Kind", "Household", "Place", "Grown as", "Plants", "Shelter", "Since"),
        "members": (
            "Name", "Household", "Town", "County", "E-mail", "Telephone", "Organiser", "Joined",
        ),
        "parcels": (
            "Code", "From", "To", "State", "Way", "Posting day", "Told", "Posted", "Came", "Holds",
        ),
        "given": ("Variety", "Kind", "From", "To", "Plants", "Answer", "Share-out"),
        "places": ("Place", "Household", "Town", "County", "Height in metres", "Shelters"),
        "ways": (
            "Way", "Country", "Used", "How soon it comes", "Taken in", "By", "Postage",
        ),
        "closures": ("What", "Day", "Where", "Post all the same"),
        "deeds": ("Act", "What", "When", "Who", "For"),
    }
)  # fmt: skip
"""The heads of each list; the first column names the row."""
TITLES = MappingProxyType(
    {
        "varieties": "Varieties",
        "spares": "Spares",
        "claims": "Claims",
        "stock": "Stock",
        "members": "Members",
        "parcels": "Parcels",
        "given": "What was given",
        "places": "Places",
        "ways": "Ways of sending",
        "closures": "Days without post",
        "deeds": "Who did what",
    }
)
_ANSWERS = MappingProxyType(
    {
        AllocationState.CONFIRMED: "not answered yet",
        AllocationState.AGREED: "yes",
        AllocationState.REFUSED: "no, by the sender",
        AllocationState.DECLINED: "no, by the receiver",
        AllocationState.FAILED: "could not be sent",
    }
)


def plain(text: str) -> str:
    """Give a text with plain spaces, as files have them."""
    return text.replace(NBSP, " ")


def day(value: date | None) -> str:
    """Give "2027-04-05", which every spreadsheet takes for a day; nothing for none."""
    return "" if value is None else value.isoformat()


def yes(*, holds: bool) -> str:
    """Give "yes", or nothing."""
    return "yes" if holds else ""


def answered(state: AllocationState) -> str:
    """Give what has been answered to plants that were given."""
    return _ANSWERS[state]


def as_text(heads: Sequence[str], rows: Sequence[Sequence[str | int]]) -> str:
    """Give each row as a line for a mail: "Chapel Lantern. Kind: Dahlia. Plants: 3."."""
    return "\n".join(
        " ".join(
            [
                f"{row[0]}.",
                *(
                    f"{head}: {str(cell).rstrip('.')}."
                    for head, cell in zip(heads[1:], row[1:], strict=True)
                    if cell != ""
                ),
            ]
        )
        for row in rows
    )
