"""Four ways in which a household could try to get more than its share, and what they bring."""

import random
from collections import Counter
from dataclasses import replace

from exchange.domain.circle.household import Household
from exchange.domain.growing.variety import Species, Variety
from exchange.domain.sharing.share_out import find
from tests.builders.circles import a_place, random_circle

PARTS = 1000
"""The id of a part is that of its claim plus a multiple of this."""

TRICKS = ("padding", "splitting a claim", "inflating", "splitting the household")


def gaming_circle(number):
    """A circle of 4 to 8 households with too few plants for its claims."""
    chance = random.Random(number)
    size = chance.randint(4, 8)
    return random_circle(
        chance,
        households=size,
        varieties=size,
        spares=size,
        claims=3 * size,
        terms={},
        precious=0.1,
    )


def padded(case, household):
    """Add three claims for varieties nobody offers."""
    first = max(one.id for one in case.claims) + 1
    unknown = max(one.id for one in case.varieties) + 1
    mine = next(one for one in case.claims if one.household_id == household)
    more = tuple(
        replace(mine, id=first + step, variety_id=unknown + step, alternatives=())
        for step in range(3)
    )
    kinds = tuple(Variety(one.variety_id, Species.DAHLIA, "") for one in more)
    return replace(case, claims=case.claims + more, varieties=case.varieties + kinds)


def split(case, household):
    """Split each claim for several plants into claims for one each; their ids say which it was."""
    claims = []
    for one in case.claims:
        parts = one.asked if one.household_id == household else 1
        claims += [replace(one, id=one.id + part * PARTS) for part in range(parts)]
        if parts > 1:
            claims[-parts:] = [replace(part, asked=1) for part in claims[-parts:]]
    return replace(case, claims=tuple(claims))


def inflated(case, household):
    """Ask for three more of everything."""
    return replace(
        case,
        claims=tuple(
            replace(one, asked=one.asked + 3) if one.household_id == household else one
            for one in case.claims
        ),
    )


def two_households(case, household):
    """Move every other claim to a second household of the same people, with a place like the first."""
    new = max(one.id for one in case.households) + 1
    moved, claims = False, []
    for one in case.claims:
        if one.household_id == household:
            moved = not moved
            claims.append(one if moved else replace(one, household_id=new, place_id=new))
        else:
            claims.append(one)
    twins = tuple(replace(one, place_id=new) for one in case.shelters if one.place_id == household)
    return replace(
        case,
        claims=tuple(claims),
        households=(*case.households, Household(new, "")),
        places=(*case.places, a_place(new, new)),
        shelters=case.shelters + twins,
        safe_from={**case.safe_from, new: case.safe_from[household]},
        given={**case.given, new: case.given[household]},
        received={**case.received, new: case.received[household]},
        postage=None,
    )


PLAYED = dict(zip(TRICKS, (padded, split, inflated, two_households), strict=True))


def gain(number, trick):
    """Play a trick in one circle; give plants gained (below 0: lost), or None without claims to play with."""
    case = replace(gaming_circle(number), postage=None)
    household = 1 + number % len(case.households)
    honest = {one.id: one.asked for one in case.claims if one.household_id == household}
    if not honest:
        return None
    return _worth(PLAYED[trick](case, household), honest) - _worth(case, honest)


def _worth(case, honest):
    """Count the plants that come to the honest claims, no more of each than was honestly wanted."""
    got = Counter()
    for one in find(case, lambda _stage, _value, _bound: False).allocations:
        got[one.claim_id % PARTS] += one.count
    return sum(min(got[claim], asked) for claim, asked in honest.items())
