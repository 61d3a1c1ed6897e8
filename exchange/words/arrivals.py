"""How parcels stand on their way and how plants came, in words."""

from exchange.domain.arriving.arrival import Condition, Journey

_CONDITIONS = {
    Condition.WELL: "came well",
    Condition.LIMP: "came limp",
    Condition.HURT: "came hurt",
    Condition.DEAD: "came dead",
}
_JOURNEYS = {
    Journey.NO_DAY: "no day yet",
    Journey.TO_COME: "to be posted",
    Journey.TODAY: "goes today",
    Journey.PROBABLY_POSTED: "probably posted",
    Journey.POSTED: "posted",
    Journey.OVERDUE: "posted, should have come",
    Journey.ARRIVED: "arrived",
    Journey.LOST: "lost",
}


def condition(value: Condition) -> str:
    """Give "came well", "came limp", "came hurt" or "came dead"."""
    return _CONDITIONS[value]


def journey(value: Journey) -> str:
    """Give "probably posted" and the like."""
    return _JOURNEYS[value]
