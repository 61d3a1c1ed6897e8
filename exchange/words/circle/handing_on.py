"""Handing the organiser's part on, in words."""

from datetime import date

from exchange.domain.posting.parcel import ParcelState
from exchange.words.kernel import dates
from exchange.words.kernel.letters import LetterReader, LetterText, signed

RUNNING = (
    "Once a year: look over the dates, open the share-out, and read the terms once.",
    "On closing day: work the share-out out, look at it, confirm it; nobody is told before.",
    "While parcels go: “To do” says each morning what waits, and for whom to act.",
    "For members without mail: hand over the letters; the sheet to print is under The circle.",
    "Backups: one is written each day into the folder backups of the data folder; copy one elsewhere now and then.",
    "To start it again on its machine: exchange serve. To move it: exchange backup, then exchange restore.",
)
"""How the circle is run, as short as it can be said."""


def parcel(state: ParcelState, day: date | None) -> str:
    """Give "posted on Mon 12 April", "to be posted on Tue 13 April" or "no day yet"."""
    if day is None:
        return "no day yet"
    return f"{'posted' if state is ParcelState.POSTED else 'planned for'} {dates.day(day)}"


def told(reader: LetterReader, before: str, link: str) -> LetterText:
    """Tell the new organiser."""
    who = before or "Your circle"
    return signed(
        reader,
        f"You are now the organiser of {reader.circle}",
        f"{who} has handed the organiser’s part to you: you see all of the circle and act for its members.",
        "What stands where, what is open and how it is run:",
        link,
        "If you would rather not, hand it back on the same page.",
    )
