"""What is said of calendars: what each program does with an address, and which one fetched it."""

_PROGRAMS = (
    ("Google-Calendar", "Google Calendar"),
    ("dataaccessd", "an iPhone or iPad"),
    ("iOS", "an iPhone or iPad"),
    ("macOS", "a Mac"),
    ("Thunderbird", "Thunderbird"),
    ("Evolution", "Evolution"),
    ("ICSx5", "ICSx⁵ on Android"),
    ("Outlook", "Outlook"),
    ("Exchange", "Outlook"),
    ("Nextcloud", "Nextcloud"),
    ("Mozilla", "a browser"),
)
"""Marks in the names programs give themselves, and how members know them (from memory)."""

LONGEST_NAME = 60

HOW_TO = (
    (
        "iPhone, iPad or Mac",
        "Press “Open in my calendar”, then Subscribe. It looks for changes about once an hour.",
    ),
    (
        "Google Calendar",
        (
            "On a computer press “Add to Google Calendar”. It looks for changes only once or twice "
            "a day, so a change may show a day late; letters tell it at once."
        ),
    ),
    (
        "Android without Google",
        "Copy the address into a program that subscribes to calendars, such as ICSx⁵.",
    ),
    (
        "Outlook",
        (
            "In the calendar choose “Add calendar”, “Subscribe from web” and paste the address. "
            "It looks for changes a few times a day."
        ),
    ),
    (
        "Thunderbird",
        (
            "File, New, Calendar, “On the network”, and paste the address. It looks every half hour "
            "unless you set it otherwise."
        ),
    ),
)
"""What each program does: how the address is given to it, how soon it sees a change."""


def program(said: str) -> str:
    """Name the program that fetched a calendar by what it calls itself."""
    for sign, name in _PROGRAMS:
        if sign.casefold() in said.casefold():
            return name
    first = said.split("/", 1)[0].strip()
    return first[:LONGEST_NAME] or "a program that gives no name"
