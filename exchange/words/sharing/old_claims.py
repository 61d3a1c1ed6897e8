"""Words for claims of an earlier season: the question whether they stand, and that they lapsed."""

from collections.abc import Sequence
from datetime import date

from exchange.domain.growing.variety import Variety
from exchange.words.growing import plants
from exchange.words.kernel import dates
from exchange.words.kernel.letters import LetterReader, LetterText, bullets, signed
from exchange.words.kernel.phrase import counted


def claim_line(asked: int, variety: Variety, made_on: date) -> str:
    """Give "2 of Dahlia ..., asked for on Wed 3 March 2027"."""
    return f"{asked} of {plants.variety(variety.species, variety.name)}, asked for on {dates.day_and_year(made_on)}"


def still_wanted(reader: LetterReader, claims: Sequence[str], days: int, link: str) -> LetterText:
    """Ask whether claims of an earlier season still stand.

    Parameters
    ----------
    days : after which they lapse [d]
    """
    return signed(
        reader,
        "Still wanted?",
        "You asked for this in an earlier season, and it has not been met yet:",
        bullets(claims),
        "If you still want it, press here, without signing in:",
        link,
        f"To take back part of it, see Claims. Without an answer it lapses after {counted(days, 'day', 'days')}; you are told, and can ask again "
        "with one press.",
    )


def lapsed(reader: LetterReader, claims: Sequence[str], link: str) -> LetterText:
    """Tell that claims of an earlier season have lapsed, and how to revive them."""
    return signed(
        reader,
        "What you asked for has lapsed",
        "We asked whether you still want this, and heard nothing, so it no longer counts:",
        bullets(claims),
        "If you do still want it, press here, and it stands as before:",
        link,
        "If not, nothing needs doing.",
    )
