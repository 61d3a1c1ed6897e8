"""How parcels stand on their way and how plants came, in words."""

from exchange.domain.arriving.arrival import Condition, JourneyState

_CONDITIONS = {
    Condition.WELL: "came well",
    Condition.LIMP: "came limp",
    Condition.HURT: "came hurt",
    Condition.DEAD: "came dead",
}
_JOURNEYS = {
    JourneyState.NO_DAY: "no day yet",
    JourneyState.NOT_READY: "not ready yet",
    JourneyState.WAITS: "waits for weather",
    JourneyState.NO_WAY: "no way to send it yet",
    JourneyState.TO_COME: "to be posted",
    JourneyState.TODAY: "goes today",
    JourneyState.PROBABLY_POSTED: "probably posted",
    JourneyState.POSTED: "posted",
    JourneyState.OVERDUE: "posted, should have come",
    JourneyState.ARRIVED: "arrived",
    JourneyState.LOST: "lost",
    JourneyState.RETURNED: "came back",
}


def condition(value: Condition) -> str:
    """Give "came well", "came limp", "came hurt" or "came dead"."""
    return _CONDITIONS[value]


def journey(value: JourneyState) -> str:
    """Give "probably posted" and the like."""
    return _JOURNEYS[value]
