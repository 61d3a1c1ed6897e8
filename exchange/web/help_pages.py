"""Which help belongs to which page."""

from exchange.words.phrase import _

HELP_PAGES = {
    "todo": _("What needs doing"),
    "spares": _("Spares"),
    "box": _("Several spares at once"),
    "claims": _("Claims"),
    "share-out": _("The share-out"),
    "parcels": _("Parcels and posting days"),
    "varieties": _("Varieties"),
    "garden": _("My garden"),
    "calendars": _("Calendars"),
    "papers": _("Papers to print"),
    "sign-in": _("Signing in"),
    "circle": _("The circle"),
    "weather": _("Weather"),
    "people": _("People, and acting for a member"),
    "letters": _("Letters"),
    "cautions": _("Be careful"),
    "words": _("Words we use"),
    "attribution": _("Where the facts come from"),
}
"""The last part of the address of each help page, with its title."""

_OTHERS = {
    "act-for": "people",
    "who-did-what": "people",
    "tasks": "share-out",
    "join": "sign-in",
    "my-password": "sign-in",
    "my-sign-in": "sign-in",
    "new-address": "sign-in",
}


def help_for(path: str) -> str:
    """Give the address of the help that belongs to a page, or of all help."""
    parts = path.strip("/").split("/")
    if parts[:2] == ["spares", "box"]:
        return "/help/box"
    slug = _OTHERS.get(parts[0], parts[0])
    return f"/help/{slug}" if slug in HELP_PAGES else "/help"
