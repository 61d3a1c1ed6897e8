"""What is said of two entries made one: what moves, and why it can no longer be undone."""

from collections.abc import Mapping

from exchange.words.kernel.phrase import counted

_NOUNS = {
    "batch": ("entry of plants", "entries of plants"),
    "spare": ("spare", "spares"),
    "claim": ("claim", "claims"),
    "place": ("place", "places"),
    "away": ("entry of days away", "entries of days away"),
    "parcel": ("parcel", "parcels"),
    "letter": ("letter that waits", "letters that wait"),
    "calendar_address": ("calendar", "calendars"),
}
_OTHERWISE = {
    "variety": "the variety",
    "member": "the member",
    "household": "the household",
    "diary_entry": "the dates in the calendar",
    "one_time_link": "a link in a letter",
}


def moving(counts: Mapping[str, int]) -> tuple[str, ...]:
    """Give "2 entries of plants", "3 spares"; rows that only belong to the program are left out."""
    return tuple(counted(counts[noun], *_NOUNS[noun]) for noun in _NOUNS if counts.get(noun))


def has_changed(noun: str) -> str:
    """Say in a sentence what has changed since, so that a merger can no longer be undone."""
    what = _OTHERWISE.get(noun) or f"a {_NOUNS[noun][0]}"
    what = what.replace("a entry", "an entry")
    verb = "have" if what.startswith("the dates") else "has"
    return f"{what[0].upper()}{what[1:]} {verb} been changed since, so it can no longer be undone."
