"""Finding the town somebody typed, and offering the choice where several have its name."""

from exchange.actions.refused import RefusedError
from exchange.actions.towns import Town, TownNotClearError, TownWanted, find_town, key_of, name_of
from exchange.web.forms.people import TownFields
from exchange.web.refusals import blame


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
