"""The solver against a list of all share-outs, rule by rule and down to the draw."""

import os
import random
from dataclasses import replace

from exchange.domain.sharing.measure import measure
from exchange.domain.sharing.pairing import pair_up
from exchange.domain.sharing.rules import values
from exchange.domain.sharing.share_out import work_out
from tests.builders.circles import tiny_circle
from tests.builders.enumeration import TooMany, best_by_rules, every_share_out, levels

CIRCLES = int(200 * float(os.environ.get("EXCHANGE_TEST_SCALE", "1")))
MOST = 1200


def compared(case, number):
    """Compare one circle; give None when it has too many share-outs to list, else whether it was contested."""
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
    assert levels(case, found.first, what) == levels(case, best[0], what), number
    assert found.first in {tuple(sorted(one)) for one in best}, number
    return bool(what.contested)


def test_the_solver_finds_the_best_of_all_share_outs_under_every_rule_and_the_draw():
    contested, done, number = 0, 0, 0
    while done < CIRCLES:
        number += 1
        result = compared(tiny_circle(number), number)
        if result is not None:
            done += 1
            contested += result

    # Circles without a contested variety would prove little.
    assert contested > CIRCLES // 4


def part_of_one(case, chance):
    """Take a part of one of all share-outs at random; nothing when there are too many to list."""
    try:
        listed = every_share_out(case, MOST)
    except TooMany:
        return ()
    return tuple(
        replace(one, count=chance.randint(1, one.count))
        for one in chance.choice(listed)
        if chance.random() < 0.6
    )


def test_the_solver_finds_the_best_of_all_share_outs_that_keep_what_stands():
    contested, done, number = 0, 0, 20_000
    while done < CIRCLES // 2:
        number += 1
        chance = random.Random(number)
        case = tiny_circle(number, first_refusal=chance.random() < 0.5)
        stands = part_of_one(case, chance)
        if stands:
            result = compared(replace(case, kept=stands), number)
            if result is not None:
                done += 1
                contested += result

    assert contested > CIRCLES // 8
