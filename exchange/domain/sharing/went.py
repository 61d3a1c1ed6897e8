"""Where the plants went that a claim did not get: statements about the result, each held against it before it is said."""

from collections.abc import Callable, Mapping

from exchange.domain.sharing.draw import drawn
from exchange.domain.sharing.followed import PlantsFollowed, Result
from exchange.domain.sharing.pairs import wanted
from exchange.domain.sharing.reason import Rule, WentTo


def where_they_went(result: Result, account: PlantsFollowed, rule: Rule | None) -> WentTo | None:
    """Say where the plants went that could have come to a claim.

    Parameters
    ----------
    rule : the rule that decided, whose statements come first, then those of the others; None when not known

    Returns
    -------
    the first statement that holds; None when plants are left, of which other things are to be said
    """
    if account.left or not account.could:
        return None
    if not account.won:
        return WentTo.OWN_CLAIM if account.own else WentTo.ALL_GIVEN
    first = _STATEMENTS.get(rule, ()) if rule is not None else ()
    rest = [one for of, those in _STATEMENTS.items() if of in _PLAIN for one in those]
    for said in (*first, *rest, WentTo.NO_MORE_THAN_YOU):
        if _HOLDS[said](result, account):
            return said
    return WentTo.NONE_LEFT if _chosen(result, account) else WentTo.BY_RULES


def _chosen(result: Result, account: PlantsFollowed) -> bool:
    """Say whether some of it was chosen by the organiser or stood already."""
    return any((one.spare_id, one.claim_id) in result.stood for one in account.won)


def _new_places(result: Result, account: PlantsFollowed) -> bool:
    """Say whether each went to a place that had none, and the claim's place has one."""
    variety, here = account.claim.variety_id, account.claim.place_id
    if variety not in result.precious:
        return False
    kept = result.lookups.kept[variety]
    places = {result.claims[one.claim_id].place_id for one in account.won}
    has = here in kept or result.at_place[here, variety] > 0
    return has and all(one not in kept and result.at_place[one, variety] == 1 for one in places)


def _safer_places(result: Result, account: PlantsFollowed) -> bool:
    """Say whether each went to a place that is less likely to lose it than the claim's."""
    variety = result.precious.get(account.claim.variety_id)
    if variety is None:
        return False
    mine = result.lookups.loses(variety, account.claim.place_id)
    places = {result.claims[one.claim_id].place_id for one in account.won}
    return all(result.lookups.loses(variety, one) < mine for one in places)


def _had_none(result: Result, account: PlantsFollowed) -> bool:
    """Say whether the household has one, and each other household only the one it got here."""
    variety = account.claim.variety_id
    return result.of_variety[account.claim.household_id, variety] > 0 and all(
        result.of_variety[one, variety] == 1 for one in result.winners(account)
    )


def _given_less(result: Result, account: PlantsFollowed) -> bool:
    """Say whether each other household, without the last it was given, had fewer plants than this one has."""
    mine = result.plants[account.claim.household_id]
    return all(result.plants[one] - 1 < mine for one in result.winners(account))


def _less_of_scarce(result: Result, account: PlantsFollowed) -> bool:
    """Say the same of what more was asked for than could be given."""
    return all(_scarcer(result, account).values())


def _scarcer(result: Result, account: PlantsFollowed) -> Mapping[int, bool]:
    """Say of each other household whether it was given less of what is scarce."""
    mine = result.scarce[account.claim.household_id]
    counts = account.claim.variety_id in result.measure.contested
    return {one: counts and result.scarce[one] - 1 < mine for one in result.winners(account)}


def _earlier(result: Result, account: PlantsFollowed) -> bool:
    """Say whether each other household comes earlier for what it gave and received."""
    start = result.measure.start
    mine = start.get(account.claim.household_id, 0)
    return all(start.get(one, 0) < mine for one in result.winners(account))


def _less_or_earlier(result: Result, account: PlantsFollowed) -> bool:
    """Say whether each was given less of what is scarce, or comes earlier."""
    start = result.measure.start
    mine = start.get(account.claim.household_id, 0)
    less = _scarcer(result, account)
    return all(less[one] or start.get(one, 0) < mine for one in less)


def _higher_wish(result: Result, account: PlantsFollowed) -> bool:
    """Say whether each put the variety itself higher among its wishes."""
    winners = [result.claims[one.claim_id] for one in account.won]
    variety, mine = account.claim.variety_id, account.claim.choice
    return all(one.choice < mine and wanted(one)[0] == variety for one in winners)


def _costs_more(rule: Rule) -> Callable[[Result, PlantsFollowed], bool]:
    """Give the test whether each, had it come to the claim instead, would have made this value larger."""

    def holds(result: Result, account: PlantsFollowed) -> bool:
        was = result.value[rule - 1]
        return all(result.moved(account, one)[rule - 1] > was for one in account.won)

    return holds


def _ties(result: Result, account: PlantsFollowed) -> list[bool]:
    """Say of each whether all was equal and its claim drew the larger number; of nothing if the organiser chose."""
    if _chosen(result, account):
        return [False]
    number, claim_id = result.case.draw_number, account.claim.id
    return [
        result.moved(account, one) == result.value
        and drawn(number, one.claim_id, one.spare_id) > drawn(number, claim_id, one.spare_id)
        for one in account.won
    ]


def _no_more(result: Result, account: PlantsFollowed) -> bool:
    """Say whether the household has some of it, and nobody whom it went to has more."""
    variety = account.claim.variety_id
    mine = result.of_variety[account.claim.household_id, variety]
    return mine > 0 and all(
        result.of_variety[one, variety] <= mine for one in result.winners(account)
    )


_STATEMENTS: Mapping[Rule, tuple[WentTo, ...]] = {
    Rule.MUST_NOT_BE_LOST: (WentTo.NEW_PLACES, WentTo.SAFER_PLACES),
    Rule.ONE_EACH: (WentTo.HAD_NONE,),
    Rule.FAIR: (WentTo.GIVEN_LESS, WentTo.LESS_OF_SCARCE, WentTo.EARLIER, WentTo.LESS_OR_EARLIER),
    Rule.WISHES: (WentTo.HIGHER_WISH,),
    Rule.FEWEST_PARCELS: (WentTo.FEWER_PARCELS,),
    Rule.POSTAGE: (WentTo.LESS_POSTAGE,),
    Rule.DRAW: (WentTo.DRAWN, WentTo.LAST_DRAWN),
}
"""What can be said where a rule decided."""

_PLAIN = (Rule.MUST_NOT_BE_LOST, Rule.ONE_EACH, Rule.FAIR, Rule.WISHES)
"""Rules whose statements may be said where another decided; those of parcels and the draw only where it was they."""

_HOLDS: Mapping[WentTo, Callable[[Result, PlantsFollowed], bool]] = {
    WentTo.NEW_PLACES: _new_places,
    WentTo.SAFER_PLACES: _safer_places,
    WentTo.HAD_NONE: _had_none,
    WentTo.GIVEN_LESS: _given_less,
    WentTo.LESS_OF_SCARCE: _less_of_scarce,
    WentTo.EARLIER: _earlier,
    WentTo.LESS_OR_EARLIER: _less_or_earlier,
    WentTo.HIGHER_WISH: _higher_wish,
    WentTo.FEWER_PARCELS: _costs_more(Rule.FEWEST_PARCELS),
    WentTo.LESS_POSTAGE: _costs_more(Rule.POSTAGE),
    WentTo.DRAWN: lambda result, account: all(_ties(result, account)),
    WentTo.LAST_DRAWN: lambda result, account: any(_ties(result, account)),
    WentTo.NO_MORE_THAN_YOU: _no_more,
}
