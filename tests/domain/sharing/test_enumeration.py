"""The solver against a list of all share-outs, rule by rule and down to the draw."""

import os

from exchange.domain.sharing.measure import measure
from exchange.domain.sharing.pairing import pair_up
from exchange.domain.sharing.rules import values
from exchange.domain.sharing.share_out import work_out
from tests.builders.circles import tiny_circle
from tests.builders.enumeration import TooMany, best_by_rules, every_share_out, levels

CIRCLES = int(200 * float(os.environ.get("EXCHANGE_TEST_SCALE", "1")))
MOST = 1200


def compared(number):
    """Compare one circle; give None when it has too many share-outs to list, else whether it was contested."""
    case = tiny_circle(number)
    try:
        listed = every_share_out(case, MOST)
    except TooMany:
        return None
    what = measure(case, pair_up(case))
    _, best = best_by_rules(case, listed)

    found = work_out(case)

    by_list = values(case, best[0], what)
    by_solver = tuple(one.value for one in found.rules)
    assert by_solver[:5] == by_list[:5], number
    assert by_solver[5] in (None, by_list[5]), number
    assert levels(case, found.allocations, what) == levels(case, best[0], what), number
    assert found.allocations in {tuple(sorted(one)) for one in best}, number
    return bool(what.contested)


def test_the_solver_finds_the_best_of_all_share_outs_under_every_rule_and_the_draw():
    contested, done, number = 0, 0, 0
    while done < CIRCLES:
        number += 1
        result = compared(number)
        if result is not None:
            done += 1
            contested += result

    # Circles without a contested variety would prove little.
    assert contested > CIRCLES // 4
