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
from exchange.web.frame.refusals import blame
from exchange.web.people.member_forms import TownFields


def town_of(form: TownFields, country: str = "") -> Town | None:
    """Give the town; None when the form must come back, with the reason beside the field."""
    wanted = TownWanted(form.town.data or "", form.chosen.data or "", country)
    try:
        return find_town(wanted)
    except TownNotClearError as unclear:
        form.offer([(key_of(town), name_of(town)) for town in unclear.towns])
        blame(form, unclear)
    except RefusedError as refused:
        blame(form, refused)
    return None
