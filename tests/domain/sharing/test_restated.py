"""The rows stated once more, from claims and spares alone, and solved by another solver, come to the same five values."""

import os
import random

from exchange.domain.optimise.programme import never_stop
from exchange.domain.sharing.share_out import find
from tests.builders.circles import random_circle
from tests.builders.restated import Restated

CIRCLES = int(20 * float(os.environ.get("EXCHANGE_TEST_SCALE", "1")))


def a_circle(number):
    chance = random.Random(number)
    size = chance.randint(5, 10)
    return random_circle(
        chance,
        households=size,
        varieties=size,
        spares=2 * size,
        claims=4 * size,
        terms={},
        precious=0.3,
    )


def test_feasibility_and_the_values_of_rules_1_to_5_are_those_of_the_rows_stated_anew():
    contested = precious = 0
    for number in range(60_000, 60_000 + CIRCLES):
        case = a_circle(number)
        first = find(case, never_stop).passes[0]

        anew = Restated(case)

        assert anew.holds(first.allocations), number
        assert anew.best() == first.values[:5], number
        contested += bool(anew.contested)
        precious += first.values[0] > 0
    assert min(contested, precious) > CIRCLES // 2
