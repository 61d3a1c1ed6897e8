"""Letters that ask (still ready? what after a long wait?), and the warning of a night too cold."""

from collections.abc import Sequence
from datetime import date, datetime

from exchange.domain.growing.shelter import ShelterKind
from exchange.domain.weather.forecast import WeatherSource
from exchange.words.growing import plants
from exchange.words.kernel import dates
from exchange.words.kernel.letters import LetterReader, LetterText, ParcelWords, bullets, signed
from exchange.words.kernel.phrase import counted
from exchange.words.posting.posting_days import weather_source


def still_ready(reader: LetterReader, parcel: ParcelWords, goes: str, link: str) -> LetterText:
    """Ask the sender a week ahead whether the plants are ready.

    Parameters
    ----------
    goes : "on Tue 13 April", or before the day is announced "about the week of Mon 12 April"
    """
    return signed(
        reader,
        f"Still ready? {parcel.code} goes {goes}",
        f"{parcel.code} for {parcel.other_first_name} is to go {goes}, with:",
        bullets(parcel.contents),
        "Are they ready: all, fewer, or later? Answer without signing in:",
        link,
        "If you say nothing, it stays as it is. What cannot go is given from other spares.",
    )


def day_asked(
    reader: LetterReader, parcel: ParcelWords, chosen_day: date, asked: str, link: str
) -> LetterText:
    """Ask whoever chose a parcel's day whether it should be left, and why.

    Parameters
    ----------
    asked : why, and the question
    """
    return signed(
        reader,
        f"{parcel.code}: still on {dates.day(chosen_day)}?",
        asked,
        "Move it or keep it on the parcel’s page; until you answer, it stays as you chose:",
        link,
    )


def waited_long(
    reader: LetterReader,
    parcel: ParcelWords,
    sender: str,
    waited: tuple[int, Sequence[str]],
    link: str,
) -> LetterText:
    """Ask the organiser what to do with a parcel that has waited too long.

    Parameters
    ----------
    waited : days waited and the reasons
    """
    days, reasons = waited
    return signed(
        reader,
        "{code} has waited {days}: what now?".format(
            code=parcel.code, days=counted(days, "day", "days")
        ),
        f"{parcel.code} from {sender} for {parcel.other_first_name} finds no good day:",
        bullets(parcel.contents),
        " ".join(reasons),
        bullets(
            (
                "by hand: somebody carries it, or it is collected",
                "grow on: the sender pots them on and sends them later as young plants",
                "reserve: the plants go to the next who asked for them",
                "later: wait on; you are asked again in two weeks",
            )
        ),
        "Choose on the parcel’s page:",
        link,
    )


def too_cold_tonight(
    reader: LetterReader,
    night: tuple[str, float, WeatherSource, datetime | None],
    pots: Sequence[str],
    link: str,
) -> LetterText:
    """Name the pots that should not stand where they are tonight.

    Parameters
    ----------
    night : name of the place, expected lowest temperature [degrees C] and where the figure comes
        from, sunset in the place's zone
    pots : a line each
    """
    place, low_c, source, sunset = night
    before = (
        f"Carry them in before sunset, at {dates.hour(sunset)}:"
        if sunset
        else "Carry them in before the night:"
    )
    return signed(
        reader,
        f"Cold tonight: carry in at {place}",
        f"About {dates.degrees(low_c)} is expected out of doors at {place} ({weather_source(source)}).",
        before,
        bullets(pots),
        "What to do with plants that come in from the cold stands on their care sheets. More:",
        link,
    )


def pots_line(pots: str, where: ShelterKind, carry_to: ShelterKind) -> str:
    """Give "3 rooted cuttings of Dahlia ..., in the cold greenhouse or frame: carry them indoors"."""
    if carry_to is ShelterKind.HEATED:
        to = "carry them into the heated greenhouse"
    else:
        to = "carry them indoors"
    return f"{pots}, {plants.in_shelter(where)}: {to}"
