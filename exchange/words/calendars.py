"""What is said of calendars: what each program does with an address, and which one fetched it."""

from exchange.words.phrase import _

_PROGRAMS = (
    ("Google-Calendar", _("Google Calendar")),
    ("dataaccessd", _("an iPhone or iPad")),
    ("iOS", _("an iPhone or iPad")),
    ("macOS", _("a Mac")),
    ("Thunderbird", _("Thunderbird")),
    ("Evolution", _("Evolution")),
    ("ICSx5", _("ICSx⁵ on Android")),
    ("Outlook", _("Outlook")),
    ("Exchange", _("Outlook")),
    ("Nextcloud", _("Nextcloud")),
    ("Mozilla", _("a browser")),
)
"""Signs in what programs call themselves, and how members know them (from memory)."""

LONGEST_NAME = 60

HOW_TO = (
    (
        _("iPhone, iPad or Mac"),
        _("Press “Open in my calendar”, then Subscribe. It looks for changes about once an hour."),
    ),
    (
        _("Google Calendar"),
        _(
            "On a computer press “Add to Google Calendar”. It looks for changes only once or twice "
            "a day, so a change may show a day late; letters tell it at once."
        ),
    ),
    (
        _("Android without Google"),
        _("Copy the address into a program that subscribes to calendars, such as ICSx⁵."),
    ),
    (
        _("Outlook"),
        _(
            "In the calendar choose “Add calendar”, “Subscribe from web” and paste the address. "
            "It looks for changes a few times a day."
        ),
    ),
    (
        _("Thunderbird"),
        _(
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
    return first[:LONGEST_NAME] or _("a program that gives no name")
