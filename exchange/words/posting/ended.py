"""Letters and sentences on parcels that are late, were lost, came to harm or came back."""

from collections.abc import Sequence
from datetime import date

from exchange.words.kernel import dates
from exchange.words.kernel.letters import LetterReader, LetterText, ParcelWords, bullets, signed
from exchange.words.kernel.phrase import counted

_ASK_THE_CARRIER = (
    "If you kept a proof of posting or a tracking number, the carrier can be asked. If it comes back to you, "
    "or never went, say so on its page:"
)


def late(
    reader: LetterReader, parcel: ParcelWords, days: tuple[date, date], link: str
) -> LetterText:
    """Tell the sender that a parcel has not come yet.

    Parameters
    ----------
    days : the day that was said, and the last day on which it was expected
    """
    said, last = days
    return signed(
        reader,
        f"{parcel.code} has not come yet",
        f"{parcel.other_first_name} says on {dates.day(said)} that {parcel.code} has not come; it should have come by {dates.day(last)}.",
        _ASK_THE_CARRIER,
        link,
    )


def never_came(
    reader: LetterReader, parcel: ParcelWords, gone: Sequence[str], link: str
) -> LetterText:
    """Tell the sender that a parcel was lost on the way."""
    return signed(
        reader,
        f"{parcel.code} never came",
        f"{parcel.code} for {parcel.other_first_name} is noted as lost on the way, with:",
        bullets(gone),
        "Nothing is held against you.",
        _ASK_THE_CARRIER,
        link,
    )


def not_all_lived(
    reader: LetterReader, parcel: ParcelWords, gone: Sequence[str], link: str
) -> LetterText:
    """Tell the sender what of a parcel did not live."""
    return signed(
        reader,
        f"Not all in {parcel.code} lived",
        f"{parcel.code} has come to {parcel.other_first_name}, but these did not live:",
        bullets(gone),
        "Nothing is held against you; it helps to choose better days. More on the parcel’s page:",
        link,
    )


def came_back(
    reader: LetterReader,
    parcel: ParcelWords,
    lines: tuple[Sequence[str], Sequence[str]],
    link: str,
) -> LetterText:
    """Tell the receiver that a parcel came back to its sender.

    Parameters
    ----------
    lines : what goes again, and what is no longer good
    """
    again, gone = lines
    parts = []
    if again:
        parts += ["These are still good, and a new day is chosen for them:", bullets(again)]
    if gone:
        parts += ["These are no longer good:", bullets(gone)]
    return signed(
        reader,
        f"{parcel.code} came back",
        f"{parcel.code} came back to {parcel.other_first_name}.",
        *parts,
        "More on the parcel’s page:",
        link,
    )


def missing(plants: int, *, of_share_out: bool, receiver: bool) -> str:
    """Say what follows from plants that did not live.

    Parameters
    ----------
    of_share_out : whether a share-out gave them; else they were set aside
    receiver : whether the receiver reads it
    """
    what = counted(plants, "plant in it did not live", "plants in it did not live")
    if not of_share_out:
        return f"{what}. It was set aside by its sender, so nothing else is sent in its place."
    whose = "Your claim" if receiver else "The claim"
    return f"{what}. {whose} lacks as many again: others are sent if any are left, and its page says how it stands."


def said_late(day: date) -> str:
    """Say that the receiver has not got it."""
    return f"On {dates.day(day)} it was said not to have come yet."
