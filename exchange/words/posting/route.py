"""The town a way goes through, in the members' words."""

_NIGHTS = {
    "forecast nearby": "Its nights are those of the forecast for the nearest member’s place.",
    "usual only": (
        "Its nights are what is usual for the time of year: no member’s place with a forecast is within "
        "30 km, and forecasts are asked for at members’ places only."
    ),
    "nothing": (
        "Nothing is known of its nights: no weather station and no member’s place with a forecast is near. "
        "The receiver’s nights stand for them."
    ),
}


def nights(source: str) -> str:
    """Say what the nights at a route point come from, by the value of NightsFrom."""
    return _NIGHTS[source]
