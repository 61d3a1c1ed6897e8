"""Towns and postal districts, looked up without asking any outside service."""

from dataclasses import dataclass

from exchange.actions.kernel.refusals import RefusedError
from exchange.reference.gazetteer import Found, alike, search
from exchange.words.kernel.areas import area_words

Town = Found
"""A town as places keep it."""


class TownNotFoundError(RefusedError):
    """No town of that name is known."""


class TownNotClearError(RefusedError):
    """Several towns have that name, or names like it; the person chooses.

    Attributes
    ----------
    towns : those that may be meant, the likeliest first
    """

    def __init__(self, sentence: str, field: str, towns: tuple[Town, ...]) -> None:
        super().__init__(sentence, field)
        self.towns = towns


@dataclass(frozen=True, slots=True)
class TownWanted:
    """A town as somebody typed it, and the one chosen among several, as `key_of` gives it."""

    text: str
    chosen: str = ""
    country: str = ""


def key_of(town: Town) -> str:
    """Give what tells a town from all others in a form."""
    return f"{town.latitude:.3f},{town.longitude:.3f}"


def name_of(town: Town) -> str:
    """Give "Newport, Essex", or "Newport, Wales" in the county of Newport; a district stands first."""
    beside = town.county
    if beside in ("", town.town):
        beside = area_words(town.country, town.subdivision) if town.subdivision else ""
    named = ", ".join(part for part in (town.town, beside) if part)
    return f"{town.district}: {named}" if town.district else named


def find_town(wanted: TownWanted) -> Town:
    """Give the one town meant.

    Raises
    ------
    TownNotFoundError, TownNotClearError
        With the sentence for the field `town`.
    """
    found = search(wanted.text, wanted.country)
    if not found:
        return _misspelt(wanted)
    for town in found:
        if key_of(town) == wanted.chosen:
            return town
    same = [town for town in found if town.town.casefold() == _name_in(wanted.text)]
    if len(found) == 1 or len(same) == 1:
        return (same or list(found))[0]
    raise TownNotClearError(
        "There are several: {towns}. Choose yours.".format(
            towns="; ".join(name_of(town) for town in found)
        ),
        "town",
        found,
    )


def _misspelt(wanted: TownWanted) -> Town:
    """Give the one chosen among towns of nearly that name; none is taken unasked."""
    near = alike(wanted.text, wanted.country)
    if not near:
        raise TownNotFoundError(
            "No such town or postal district is known here. Try the nearest larger town.",
            "town",
        )
    for town in near:
        if key_of(town) == wanted.chosen:
            return town
    raise TownNotClearError(
        "No town is written like that here. Choose one of these, or write the nearest larger town.",
        "town",
        near,
    )


def _name_in(text: str) -> str:
    return text.partition(",")[0].strip().casefold()
