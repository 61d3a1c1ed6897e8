"""The circle's letters: a subject and a text each, to be mailed or copied as they stand."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from exchange.domain.arriving.arrival import ArrivalWindow
from exchange.words import dates
from exchange.words.phrase import _, as_sentence


@dataclass(frozen=True, slots=True)
class LetterText:
    """A letter in words."""

    subject: str
    text: str

    def as_copy(self) -> str:
        """Give subject and text as one piece for a group mail or a printed sheet."""
        return f"{self.subject}\n\n{self.text}"


@dataclass(frozen=True, slots=True)
class Reader:
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
    reader: Reader, organiser_first_name: str, link: str, good_until: date
) -> LetterText:
    """Invite somebody to the circle."""
    return signed(
        reader,
        _("Come and join {circle}").format(circle=reader.circle),
        _(
            "{organiser} would like you in {circle}: a small circle of growers who send each other "
            "spare cuttings and tubers. Nothing is sold; postage is shared or paid back."
        ).format(organiser=organiser_first_name, circle=reader.circle),
        _("To join, press here; it asks for your name and your town, no more:"),
        link,
        _("The link is yours alone and works once, until {day}.").format(
            day=dates.day_and_year(good_until)
        ),
        _("If you would rather not, do nothing; you will not be asked again by this program."),
    )


def sign_in(reader: Reader, link: str, good_minutes: int) -> LetterText:
    """Send a sign-in link."""
    return signed(
        reader,
        _("Sign in to {circle}").format(circle=reader.circle),
        _("Press here to sign in:"),
        link,
        _("It works once, for the next {minutes} minutes.").format(minutes=good_minutes),
        _("If you did not ask for this, leave it: nobody can use it but the reader of this mail."),
    )


def new_address(reader: Reader, link: str, good_hours: int) -> LetterText:
    """Ask whoever reads mail at an address whether it is to be signed in with."""
    return signed(
        reader,
        _("Is this your new address?"),
        _(
            "Somebody signed in as you wants to sign in with this address from now on. If it was you:"
        ),
        link,
        _("It works once, for the next {hours} hours.").format(hours=good_hours),
        _("If you did not ask for this, leave it: then nothing changes."),
    )


def address_changed(reader: Reader) -> LetterText:
    """Tell the old address that another is signed in with now; it does not say which."""
    return signed(
        reader,
        _("You sign in with another address now"),
        _(
            "The address you sign in with has been changed, from this one to another. Letters go to"
            " the new one, and every telephone and computer was signed out."
        ),
        _("If it was not you, tell your organiser at once."),
    )


@dataclass(frozen=True, slots=True)
class ShareOutResult:
    """What a share-out gave one household.

    Attributes
    ----------
    given : what comes to it, one line each
    not_given : what it asked for in vain, one line each, with the reason
    to_send : what it gives to others, one line each
    """

    given: tuple[str, ...]
    not_given: tuple[str, ...]
    to_send: tuple[str, ...]


def share_out_result(
    reader: Reader, result: ShareOutResult, link: str, answer_link: str = ""
) -> LetterText:
    """Tell a household what the share-out gave it and what it is asked to send.

    Parameters
    ----------
    answer_link : where a sender says yes, or quietly no, without signing in
    """
    parts = [_("The share-out is done.")]
    for heading, lines in (
        (_("You are given:"), result.given),
        (_("Not this time, and why:"), result.not_given),
        (_("You are asked to send:"), result.to_send),
    ):
        if lines:
            parts += [heading + "\n" + bullets(lines)]
    if not (result.given or result.not_given or result.to_send):
        parts.append(_("There was nothing for you to take or to send in it."))
    if result.to_send:
        if answer_link:
            parts += [_("Can it go? Say yes, or quietly no, without signing in:"), answer_link]
        parts.append(_("Posting days follow once the weather can be told."))
    parts += [_("All of it, and how it was decided:"), link]
    return signed(reader, _("What the share-out gave you"), *parts)


def pack_tonight(
    reader: Reader, parcel: ParcelWords, posting_day: date, reasons: Sequence[str], link: str
) -> LetterText:
    """Say that a parcel can go tomorrow, or today."""
    return signed(
        reader,
        _("Pack {code} for {other}: post on {day}").format(
            code=parcel.code, other=parcel.other_first_name, day=dates.day(posting_day)
        ),
        _("Good to post on {day}.").format(day=dates.day(posting_day)),
        bullets(parcel.contents),
        _why(reasons),
        _("Papers and packing list:"),
        link,
    )


def wait_tonight(
    reader: Reader, parcel: ParcelWords, next_day: date | None, reasons: Sequence[str], link: str
) -> LetterText:
    """Say that a parcel should wait, why, and until when."""
    if next_day is None:
        next_words = _("No good day can be named yet; you will hear as soon as there is one.")
    else:
        next_words = _("The next good day is {day}.").format(day=dates.day(next_day))
    return signed(
        reader,
        _("Wait with {code} for {other}").format(code=parcel.code, other=parcel.other_first_name),
        _("Please do not post {code} yet.").format(code=parcel.code),
        _why(reasons),
        next_words,
        _("Keep them growing where they stand. More on the parcel’s page:"),
        link,
    )


def moved(
    reader: Reader,
    parcel: ParcelWords,
    days: tuple[date, date | None],
    reasons: Sequence[str],
    link: str,
) -> LetterText:
    """Say that an announced posting day has moved, from the first day to the second, and why."""
    before, after = days
    if after is None:
        news = _("{code} does not go on {before}. It has no day yet.").format(
            code=parcel.code, before=dates.day(before)
        )
        subject = _("{code}: not on {before}")
    else:
        news = _("{code} goes on {after} instead of {before}.").format(
            code=parcel.code, before=dates.day(before), after=dates.day(after)
        )
        subject = _("{code}: now {after}")
    return signed(
        reader,
        subject.format(
            code=parcel.code,
            before=dates.day(before),
            after=dates.day(after) if after else "",
        ),
        news,
        _why(reasons),
        _("More on the parcel’s page:"),
        link,
    )


def did_it_go(reader: Reader, parcel: ParcelWords, posting_day: date, link: str) -> LetterText:
    """Ask the sender whether the parcel went."""
    return signed(
        reader,
        _("Did {code} go?").format(code=parcel.code),
        _("{code} for {other} was to go on {day}. Did it, and on which day?").format(
            code=parcel.code, other=parcel.other_first_name, day=dates.day(posting_day)
        ),
        _("One press is enough, without signing in:"),
        link,
        _("If it has not gone, that is fine: the same page asks for another day."),
    )


def did_it_come(
    reader: Reader, parcel: ParcelWords, expected: ArrivalWindow, link: str
) -> LetterText:
    """Ask the receiver whether the parcel came, and how."""
    return signed(
        reader,
        _("Did {code} come?").format(code=parcel.code),
        _("{code} from {other} should have come on {days}, with:").format(
            code=parcel.code,
            other=parcel.other_first_name,
            days=dates.span(expected.first, expected.last),
        ),
        bullets(parcel.contents),
        _("Came, and all well? One press is enough, without signing in:"),
        link,
        _("If something was wrong, the same page has room to say so."),
    )


def signed(reader: Reader, subject: str, *parts: str) -> LetterText:
    """Give a letter with its greeting and its close."""
    greeting = _("Dear {name},").format(name=reader.first_name)
    close = _("Your circle,\n{circle}").format(circle=reader.circle)
    return LetterText(
        subject, "\n\n".join(part for part in (greeting, *parts, close) if part) + "\n"
    )


def _why(reasons: Sequence[str]) -> str:
    return " ".join(as_sentence(reason) for reason in reasons)


def bullets(lines: Sequence[str]) -> str:
    """Give lines as a list."""
    return "\n".join(f"- {line}" for line in lines)
