"""The circle's letters: a subject and a text each, to be mailed or copied as they are."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from exchange.domain.arriving.arrival import ArrivalWindow
from exchange.words.kernel import dates
from exchange.words.kernel.phrase import as_sentence


@dataclass(frozen=True, slots=True)
class LetterText:
    """A letter in words."""

    subject: str
    text: str

    def as_copy(self) -> str:
        """Give subject and text as one piece for a group mail or a printed sheet."""
        return f"{self.subject}\n\n{self.text}"


@dataclass(frozen=True, slots=True)
class LetterReader:
    """Whom a letter is for, and who signs it."""

    first_name: str
    circle: str


@dataclass(frozen=True, slots=True)
class ParcelWords:
    """What letters say of a parcel.

    Attributes
    ----------
    other_first_name : the person at the other end
    contents : one line for each kind of plant
    """

    code: str
    other_first_name: str
    contents: tuple[str, ...]


def invitation(
    reader: LetterReader, organiser_first_name: str, link: str, good_until: date
) -> LetterText:
    """Invite somebody to the circle."""
    return signed(
        reader,
        f"Come and join {reader.circle}",
        (
            f"{organiser_first_name} would like you in {reader.circle}: a small circle of growers who send each other "
            "spare cuttings and tubers. Nothing is sold; postage is shared or paid back."
        ),
        "To join, press here; it asks for your name and your town, no more:",
        link,
        f"The link is yours alone and works once, until {dates.day_and_year(good_until)}.",
        "If you would rather not, do nothing; you will not be asked again by this program.",
    )


def sign_in(reader: LetterReader, link: str, good_minutes: int) -> LetterText:
    """Send a sign-in link."""
    return signed(
        reader,
        f"Sign in to {reader.circle}",
        "Press here to sign in:",
        link,
        f"It works once, for the next {good_minutes} minutes.",
        "If you did not ask for this, leave it: nobody can use it but the reader of this mail.",
    )


def new_address(reader: LetterReader, link: str, good_hours: int) -> LetterText:
    """Ask whoever reads mail at an address to confirm it as a sign-in address."""
    return signed(
        reader,
        "Is this your new address?",
        "Somebody signed in as you wants to sign in with this address from now on. If it was you:",
        link,
        f"It works once, for the next {good_hours} hours.",
        "If you did not ask for this, leave it: then nothing changes.",
    )


def address_changed(reader: LetterReader) -> LetterText:
    """Tell the old address that the sign-in has moved to another; it does not say which."""
    return signed(
        reader,
        "You sign in with another address now",
        (
            "The address you sign in with has been changed, from this one to another. Letters go to"
            " the new one, and every telephone and computer was signed out."
        ),
        "If it was not you, tell your organiser at once.",
    )


@dataclass(frozen=True, slots=True)
class ShareOutResult:
    """What a share-out gave one household.

    Attributes
    ----------
    given : what comes to it, one line each
    not_given : what it asked for and was not given, one line each, with the reason
    to_send : what it gives to others, one line each
    """

    given: tuple[str, ...]
    not_given: tuple[str, ...]
    to_send: tuple[str, ...]


def share_out_result(
    reader: LetterReader, result: ShareOutResult, link: str, answer_link: str = ""
) -> LetterText:
    """Tell a household what the share-out gave it and what it is asked to send.

    Parameters
    ----------
    answer_link : where a sender says yes, or quietly no, without signing in
    """
    parts = ["The share-out is done."]
    for heading, lines in (
        ("You are given:", result.given),
        ("Not this time, and why:", result.not_given),
        ("You are asked to send:", result.to_send),
    ):
        if lines:
            parts += [heading + "\n" + bullets(lines)]
    if not (result.given or result.not_given or result.to_send):
        parts.append("There was nothing for you to take or to send in it.")
    if result.to_send:
        if answer_link:
            parts += ["Can it go? Say yes, or quietly no, without signing in:", answer_link]
        parts.append("Posting days follow once the weather can be told.")
    parts += ["All of it, and how it was decided:", link]
    return signed(reader, "What the share-out gave you", *parts)


def pack_tonight(
    reader: LetterReader, parcel: ParcelWords, posting_day: date, reasons: Sequence[str], link: str
) -> LetterText:
    """Say that a parcel can go tomorrow, or today."""
    return signed(
        reader,
        f"Pack {parcel.code} for {parcel.other_first_name}: post on {dates.day(posting_day)}",
        f"Good to post on {dates.day(posting_day)}.",
        bullets(parcel.contents),
        _why(reasons),
        "Papers and packing list:",
        link,
    )


def wait_tonight(
    reader: LetterReader,
    parcel: ParcelWords,
    next_day: date | None,
    reasons: Sequence[str],
    link: str,
) -> LetterText:
    """Say that a parcel should wait, why, and until when."""
    if next_day is None:
        next_words = "You will hear as soon as its day is known."
    else:
        next_words = f"The next good day is {dates.day(next_day)}."
    return signed(
        reader,
        f"Wait with {parcel.code} for {parcel.other_first_name}",
        f"Please do not post {parcel.code} yet.",
        _why(reasons),
        next_words,
        "Keep them growing where they stand. More on the parcel’s page:",
        link,
    )


def moved(
    reader: LetterReader,
    parcel: ParcelWords,
    days: tuple[date, date | None],
    reasons: Sequence[str],
    link: str,
) -> LetterText:
    """Say that an announced posting day has moved, from the first day to the second, and why."""
    before, after = days
    if after is None:
        news = f"{parcel.code} does not go on {dates.day(before)}. It has no day yet."
        subject = "{code}: not on {before}"
    else:
        news = f"{parcel.code} goes on {dates.day(after)} instead of {dates.day(before)}."
        subject = "{code}: now {after}"
    return signed(
        reader,
        subject.format(
            code=parcel.code,
            before=dates.day(before),
            after=dates.day(after) if after else "",
        ),
        news,
        _why(reasons),
        "More on the parcel’s page:",
        link,
    )


def did_it_go(
    reader: LetterReader, parcel: ParcelWords, posting_day: date, link: str
) -> LetterText:
    """Ask the sender whether the parcel went."""
    return signed(
        reader,
        f"Did {parcel.code} go?",
        f"{parcel.code} for {parcel.other_first_name} was to go on {dates.day(posting_day)}. Did it, and on which day?",
        "One press is enough, without signing in:",
        link,
        "If it has not gone, that is fine: the same page asks for another day.",
    )


def did_it_come(
    reader: LetterReader, parcel: ParcelWords, expected: ArrivalWindow, link: str
) -> LetterText:
    """Ask the receiver whether the parcel came, and how."""
    return signed(
        reader,
        f"Did {parcel.code} come?",
        f"{parcel.code} from {parcel.other_first_name} should have come on {dates.span(expected.first, expected.last)}, with:",
        bullets(parcel.contents),
        "Came, and all well? One press is enough, without signing in:",
        link,
        "If something was wrong, the same page has room to say so.",
    )


def signed(reader: LetterReader, subject: str, *parts: str) -> LetterText:
    """Give a letter with its greeting and its close."""
    greeting = f"Dear {reader.first_name},"
    close = f"Your circle,\n{reader.circle}"
    return LetterText(
        subject, "\n\n".join(part for part in (greeting, *parts, close) if part) + "\n"
    )


def _why(reasons: Sequence[str]) -> str:
    return " ".join(as_sentence(reason) for reason in reasons)


def bullets(lines: Sequence[str]) -> str:
    """Give lines as a list."""
    return "\n".join(f"- {line}" for line in lines)
