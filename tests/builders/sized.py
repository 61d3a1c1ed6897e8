"""Made-up circles of a given size for measuring, like those a real season would bring."""

import random

from tests.builders.circles import random_circle

SIZES = {
    12: (200, 126, 102),
    60: (400, 571, 475),
    300: (1000, 2975, 2251),
    2000: (2000, 19_809, 15_052),
}
"""Members -> varieties in the register, spares, claims."""


def benchmark_circle(members, number=1):
    """A circle of a given number of members; the same number gives the same circle."""
    varieties, spares, claims = SIZES[members]
    chance = random.Random(number)
    return random_circle(
        chance,
        households=members,
        varieties=varieties,
        spares=spares,
        claims=claims,
        terms={"most_contested": 2},
        precious=0.08,
    )


def hard_circle(members, varieties, spares, claims, number=1):
    """A circle in which many spares could serve many claims."""
    return random_circle(
        random.Random(number),
        households=members,
        varieties=varieties,
        spares=spares,
        claims=claims,
        terms={"most_contested": 2},
        precious=0.08,
    )
