"""Every share-out of a tiny circle, listed one by one, and the best of them by the rules as they are written."""

from collections import defaultdict

from exchange.domain.sharing.case import Allocation
from exchange.domain.sharing.draw import drawn
from exchange.domain.sharing.measure import measure, shifts
from exchange.domain.sharing.pairing import pair_up
from exchange.domain.sharing.pairs import PairingLookups, wanted
from exchange.domain.sharing.rules import (
    Infeasible,
    check_feasible,
    contested_pairs,
    precious_value,
    values,
)


class TooMany(Exception):
    """There are more share-outs than are worth listing."""


def every_share_out(case, most):
    """List every feasible share-out that keeps what stands, or raise TooMany."""
    what = measure(case, pair_up(case))
    ground = PairingLookups(case)
    stands = {(one.spare_id, one.claim_id) for one in case.standing}
    pairs = [
        (spare, claim)
        for spare in case.spares
        for claim in case.claims
        if (spare.id, claim.id) in stands
        or (spare.variety_id in wanted(claim) and ground.obstacle(spare, claim) is None)
    ]
    found = []

    def go(number, chosen, left, asked):
        if len(found) > most:
            raise TooMany
        if number == len(pairs):
            if _feasible(case, chosen, what):
                found.append(chosen)
            return
        spare, claim = pairs[number]
        for count in range(min(left[spare.id], asked[claim.id]) + 1):
            more = (Allocation(spare.id, claim.id, count),) if count else ()
            go(
                number + 1,
                chosen + more,
                {**left, spare.id: left[spare.id] - count},
                {**asked, claim.id: asked[claim.id] - count},
            )

    left = {one.id: one.count for one in case.spares}
    go(0, (), left, {one.id: one.asked for one in case.claims})
    return found


def _feasible(case, allocations, what):
    try:
        check_feasible(case, allocations, what)
    except Infeasible:
        return False
    return True


def levels(case, allocations, what):
    """Give every claiming household's step on the ladder, the lowest first."""
    start = shifts(case)
    received = defaultdict(int)
    for (household, _), count in contested_pairs(case, allocations, what).items():
        received[household] += count
    households = {one.household_id for one in case.claims}
    return tuple(sorted(start.get(one, 0) + received[one] for one in households))


def best_by_rules(case, listed):
    """Keep the best of the list rule by rule, and give the values and those left at the end."""
    what = measure(case, pair_up(case))
    homes = {one: precious_value(case, one, what) for one in listed}
    top = max(homes.values())
    left = [one for one in listed if homes[one] == top]
    for key in (
        lambda one: values(case, one, what)[1],
        lambda one: levels(case, one, what),
        lambda one: values(case, one, what)[3],
        lambda one: -values(case, one, what)[4],
        lambda one: -values(case, one, what)[5],
        lambda one: sum(drawn(case.draw_number, a.claim_id, a.spare_id) * a.count for a in one),
    ):
        keys = {one: key(one) for one in left}
        best = max(keys.values())
        left = [one for one in left if keys[one] == best]
    return top, left
