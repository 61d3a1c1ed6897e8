"""Giving more, or having received less, never brings a household less."""

import os
import random
from collections import Counter
from dataclasses import replace

from exchange.domain.optimise.programme import never_stop
from exchange.domain.sharing.share_out import find
from tests.builders.circles import random_circle

PAIRS = int(20 * float(os.environ.get("EXCHANGE_TEST_SCALE", "1")))


def a_circle(number):
    """A circle of 5 to 10 households with too few plants for its claims."""
    chance = random.Random(number)
    size = chance.randint(5, 10)
    return random_circle(
        chance,
        households=size,
        varieties=size,
        spares=size,
        claims=4 * size,
        terms={"most_contested": 2},
        precious=0.1,
    )


def received(case, household):
    """Count what a household gets of contested varieties, which alone the shift is about."""
    found = find(case, never_stop)
    contested = found.passes[0].beginning.measure.contested
    mine = {one.id for one in case.claims if one.household_id == household}
    variety = {one.id: one.variety_id for one in case.spares}
    counts = Counter()
    for one in found.allocations:
        if one.claim_id in mine and variety[one.spare_id] in contested:
            counts[household] += one.count
    return counts[household]


def test_who_gave_more_or_received_less_never_gets_less():
    more = 0
    for number in range(PAIRS):
        chance = random.Random(number)
        case = replace(a_circle(70_000 + number), postage=None)
        household = chance.choice(case.claims).household_id
        if number % 2:
            given = case.given[household] + chance.randint(1, 8)
            better = replace(case, given={**case.given, household: given})
        else:
            fewer = max(0, case.received[household] - chance.randint(1, 6))
            better = replace(case, received={**case.received, household: fewer})

        before, after = received(case, household), received(better, household)

        assert after >= before, number
        more += after > before
    # Were the shift without any effect, nothing would be shown.
    assert PAIRS < 100 or more
