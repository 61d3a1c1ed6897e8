"""Letters that ask: still ready, waited long, and the word that a night will be too cold."""

from collections.abc import Sequence
from datetime import date, datetime

from exchange.domain.growing.shelter import ShelterKind
from exchange.domain.weather.forecast import WeatherSource
from exchange.words import dates, plants
from exchange.words.letters import LetterText, ParcelWords, Reader, bullets, signed
from exchange.words.phrase import _, counted
from exchange.words.posting import weather_source


def still_ready(reader: Reader, parcel: ParcelWords, posting_day: date, link: str) -> LetterText:
    """Ask the sender a week ahead whether the plants are ready."""
    return signed(
        reader,
        _("Still ready? {code} goes on {day}").format(code=parcel.code, day=dates.day(posting_day)),
        _("{code} for {other} is to go on {day}, with:").format(
            code=parcel.code, other=parcel.other_first_name, day=dates.day(posting_day)
        ),
        bullets(parcel.contents),
        _("Are they ready: all, fewer, or later? Answer without signing in:"),
        link,
        _("If you say nothing, it stays as it is. What cannot go is given from other spares."),
    )


def waited_long(
    reader: Reader, parcel: ParcelWords, sender: str, waited: tuple[int, Sequence[str]], link: str
) -> LetterText:
    """Ask the organiser what to do with a parcel that has waited too long.

    Parameters
    ----------
    waited : days waited and the reasons
    """
    days, reasons = waited
    return signed(
        reader,
        _("{code} has waited {days}: what now?").format(
            code=parcel.code, days=counted(days, _("day"), _("days"))
        ),
        _("{code} from {sender} for {other} finds no good day:").format(
            code=parcel.code, sender=sender, other=parcel.other_first_name
        ),
        bullets(parcel.contents),
        " ".join(reasons),
        bullets(
            (
                _("by hand: somebody carries it, or it is collected"),
                _("grow on: the sender pots them on and sends them later as young plants"),
                _("reserve: the plants go to the next who asked for them"),
                _("later: wait on; you are asked again in two weeks"),
            )
        ),
        _("Choose on the parcel’s page:"),
        link,
    )


def too_cold_tonight(
    reader: Reader,
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
        _("Carry them in before sunset, at {hour}:").format(hour=dates.hour(sunset))
        if sunset
        else _("Carry them in before the night:")
    )
    return signed(
        reader,
        _("Cold tonight: carry in at {place}").format(place=place),
        _("About {low} is expected out of doors at {place} ({source}).").format(
            low=dates.degrees(low_c), place=place, source=weather_source(source)
        ),
        before,
        bullets(pots),
        _("What to do with plants that come in from the cold stands on their care sheets. More:"),
        link,
    )


def pots_line(pots: str, where: ShelterKind, carry_to: ShelterKind) -> str:
    """Give "3 rooted cuttings of Dahlia ..., in the cold greenhouse or frame: carry them indoors"."""
    if carry_to is ShelterKind.HEATED:
        to = _("carry them into the heated greenhouse")
    else:
        to = _("carry them indoors")
    return _("{pots}, {where}: {to}").format(pots=pots, where=plants.in_shelter(where), to=to)
