"""Finding the town somebody typed, and offering the choice where several have its name."""

from exchange.actions.kernel.refusals import RefusedError
from exchange.actions.people.towns import (
    Town,
    TownNotClearError,
    TownWanted,
    find_town,
    key_of,
    name_of,
)
from exchange.web.frame.refusals import Refusals, blame
from exchange.web.people.member_forms import TownFields


def town_of(form: TownFields, country: str = "") -> Town | None:
    """Give the town; None when the form must come back, with the reason beside the field."""
    with town_beside(form):
        return find_town(town_wanted(form, country))
    return None


def town_wanted(form: TownFields, country: str = "") -> TownWanted:
    """Give the town as it was typed, and the one chosen among several."""
    return TownWanted(form.town.data or "", form.chosen.data or "", country)


def town_beside(form: TownFields) -> Refusals:
    """Put a refusal beside its field; where several towns have the name, the form offers them."""
    return Refusals(lambda refused: _offer(form, refused))


def _offer(form: TownFields, refused: RefusedError) -> None:
    if isinstance(refused, TownNotClearError):
        form.offer([(key_of(town), name_of(town)) for town in refused.towns])
    blame(form, refused)
