"""The checker of workings: a second program that knows no solver.

It reads a working as plain values and checks one pass after the other, each by the rules of the form it was written in.
"""

from collections import Counter
from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from exchange.domain.sharing.case import ShareOutCase
from exchange.domain.sharing.case_check import check_ids
from exchange.domain.sharing.dual_check import WorkingFault
from exchange.domain.sharing.former import FORMER
from exchange.domain.sharing.former_check import FormerChecker
from exchange.domain.sharing.instance import FINGERPRINT, FORM, case_from, case_values, fingerprint
from exchange.domain.sharing.outcome import SMALL_CIRCLE, Status
from exchange.domain.sharing.pairs import wanted
from exchange.domain.sharing.pass_check import PROVEN, CheckResult, PassChecker
from exchange.domain.sharing.rules import Infeasible, could_still_go

__all__ = ["OTHER_FORM", "CheckResult", "check", "in_order"]

ALWAYS_SHOWN = 1500
"""Up to so many spares and claims of one variety that could meet, pair by pair, the duals were kept in the former form [pairs]."""

OTHER_FORM = f"not checked: this program reads forms {FORMER} and {FORM} of workings; use the one it was made with"


def check(working: Mapping[str, Any]) -> tuple[CheckResult, ...]:
    """Check a working: the file and its allocations first, then a verdict for each rule, then the draw.

    Never raises for what a working may hold; whatever does not hold is a verdict.
    """
    try:
        if _of_another_form(working):
            return (CheckResult(0, "file and allocations", OTHER_FORM),)
        return _passes(working)
    except (WorkingFault, Infeasible, KeyError, TypeError, ValueError, IndexError) as fault:
        told = (
            f"WRONG: {fault}"
            if isinstance(fault, (WorkingFault, Infeasible))
            else _unreadable(fault)
        )
        return (CheckResult(0, "file and allocations", told),)


def _of_another_form(working: Mapping[str, Any]) -> bool:
    """Say whether a working, whole as it was written, is from a program that counts or writes otherwise."""
    return working.get("form") not in (FORMER, FORM) and working[FINGERPRINT] == fingerprint(
        working
    )


def in_order(verdicts: tuple[CheckResult, ...]) -> bool:
    """Say whether nothing is wrong and rules 1 to 4 are proven in every pass."""
    proven = {(one.rule, one.beyond) for one in verdicts if one.words == PROVEN}
    passes = {one.beyond for one in verdicts} | {False}
    every = {(rule, beyond) for rule in (1, 2, 3, 4) for beyond in passes}
    return not any(one.wrong for one in verdicts) and every <= proven


def _passes(working: Mapping[str, Any]) -> tuple[CheckResult, ...]:
    """Check each pass in turn, and that nothing was left that somebody who asked could take."""
    check_ids(working)
    case = case_from(working["case"])
    whole_file = CheckResult(0, "file and allocations", _file(working, case))
    if working["form"] == FORMER:
        former = FormerChecker(case, working).verdicts()
        shown = _could_meet(case) <= ALWAYS_SHOWN
        return (whole_file, *(_not_on_word(case, former) if shown else former))
    first = PassChecker(case, working)
    found = [whole_file, *_not_on_word(case, first.verdicts())]
    last = first
    if working["second"] is not None:
        again = case.second_pass(first.allocations, first.measure.contested)
        last = PassChecker(again, working["second"])
        found += [replace(one, beyond=True) for one in _not_on_word(again, last.verdicts())]
    left = could_still_go(last.case, last.allocations)
    if left is not None:
        spare, claim = left
        fault = f"WRONG: spare {spare.id} has a plant left that claim {claim.id} could take"
        found[0] = found[0] if found[0].wrong else replace(whole_file, words=fault)
    return tuple(found)


def _not_on_word(case: ShareOutCase, verdicts: tuple[CheckResult, ...]) -> tuple[CheckResult, ...]:
    """Call it wrong where rule 5 or 6 of a small circle rests on the solver's word: its duals may not be left out, nor prove less."""
    if len(case.households) > SMALL_CIRCLE:
        return verdicts
    wrong = "WRONG: rule {} rests on the solver's word alone, which no small circle may do"
    return tuple(
        replace(one, words=wrong.format(one.rule))
        if one.rule in {5, 6} and one.words == Status.SOLVER_SAYS.value
        else one
        for one in verdicts
    )


def _could_meet(case: ShareOutCase) -> int:
    """Count spares and claims that ask for their variety, whatever else stands between them."""
    spares = Counter(one.variety_id for one in case.spares)
    return sum(spares[variety] for claim in case.claims for variety in wanted(claim))


def _file(working: Mapping[str, Any], case: ShareOutCase) -> str:
    """Check that the file is what was written."""
    if working[FINGERPRINT] != fingerprint(working):
        return "WRONG: the fingerprint does not fit the file, so something in it was changed"
    written = case_values(case)
    if working["form"] == FORMER:
        written["safe_from"] = [one[:2] for one in written["safe_from"]]
    if written != working["case"]:
        return "WRONG: the case is not written as a case is"
    return PROVEN


def _unreadable(fault: Exception) -> str:
    """Give the verdict on a file that cannot be read as a working."""
    return f"WRONG: the file cannot be read as a working ({type(fault).__name__}: {fault})"
