"""Which help belongs to which page."""

HELP_PAGES = {
    "todo": "What needs doing",
    "spares": "Spares",
    "box": "Several spares at once",
    "claims": "Claims",
    "share-out": "The share-out",
    "parcels": "Parcels and posting days",
    "varieties": "Varieties",
    "garden": "My garden",
    "calendars": "Calendars",
    "papers": "Papers to print",
    "sign-in": "Signing in",
    "circle": "The circle",
    "read-in": "Reading a spreadsheet in",
    "weather": "Weather",
    "people": "People, and acting for a member",
    "letters": "Letters",
    "cautions": "Be careful",
    "words": "Words we use",
    "attribution": "Where the facts come from",
}
"""The last part of the address of each help page, with its title."""

_OTHERS = {
    "act-for": "people",
    "who-did-what": "people",
    "lists": "circle",
    "season": "circle",
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
