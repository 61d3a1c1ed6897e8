"""Codes of parcels: a hedge plant and a number, easy to say on the telephone and to write on a box.

No two plants begin with the same letter, and no number is one of those mistaken by ear (thirteen and
thirty, and so on).
"""

from collections.abc import Collection

HEDGE_PLANTS = (
    "Bramble",
    "Dogwood",
    "Elder",
    "Gorse",
    "Hawthorn",
    "Juniper",
    "Laurel",
    "Maple",
    "Oleaster",
    "Privet",
    "Quince",
    "Rosemary",
    "Spindle",
    "Tamarisk",
    "Viburnum",
    "Willow",
    "Yew",
)
STRIDE = 31
"""Step through the numbers, so that parcels made one after the other look unlike each other."""


class NoCodeLeftError(ValueError):
    """Every code of the season is taken."""


def numbers() -> tuple[int, ...]:
    """List the numbers in use: 21 to 999 without those that end in 0 or in a teen."""
    return tuple(number for number in range(21, 1000) if number % 10 and not 10 < number % 100 < 20)


def new_code(taken: Collection[str]) -> str:
    """Give a code that no parcel of the season has.

    Raises
    ------
    NoCodeLeftError
        when all are taken
    """
    held = set(taken)
    usable = numbers()
    short = [number for number in usable if number < 100]
    for pool in (short, usable):
        for turn in range(len(pool)):
            for shift, plant in enumerate(HEDGE_PLANTS):
                code = f"{plant} {pool[(turn + shift * STRIDE) % len(pool)]}"
                if code not in held:
                    return code
    raise NoCodeLeftError("All parcel codes of this season are taken.")
