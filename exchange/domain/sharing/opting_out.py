"""In a small circle the proofs of rules 5 and 6, and with them the draw, cannot be left out of a working.

In a large one they may be, for they would be too long; the checker then says that it has the solver's word alone. In a small one that is
never enough: where the duals prove less than the value, the value is "within x %" of what they prove.
"""

from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import replace
from typing import Any

from exchange.domain.sharing.case import ShareOutCase
from exchange.domain.sharing.dual_check import WorkingFault
from exchange.domain.sharing.former import FORMER
from exchange.domain.sharing.outcome import Status
from exchange.domain.sharing.pass_check import CheckResult

SMALL_CIRCLE = 60
"""Up to so many households rules 5 and 6 have to be shown [households]."""
ALWAYS_SHOWN = 1500
"""Up to so many spares and claims of one variety that could meet, pair by pair, the duals were kept in the former form [pairs]."""


def check_not_opted_out(working: Mapping[str, Any]) -> None:
    """Refuse a small circle's working from which the duals of rule 5 or 6 were left out.

    Raises
    ------
    WorkingFault
        naming the rule
    """
    case = working["case"]
    if len(case["households"]) > SMALL_CIRCLE:
        return
    if working["form"] == FORMER and _could_meet(case) > ALWAYS_SHOWN:
        return
    for line in _lines(working):
        if line["status"] != Status.SKIPPED.value and _without_duals(line):
            raise WorkingFault(
                f"the duals of rule {line['rule']} are left out, which no small circle may do"
            )


def not_on_word(case: ShareOutCase, verdicts: tuple[CheckResult, ...]) -> tuple[CheckResult, ...]:
    """Call it wrong where rule 5 or 6 of a small circle rests on the solver's word."""
    if len(case.households) > SMALL_CIRCLE:
        return verdicts
    wrong = "WRONG: rule {} rests on the solver's word alone, which no small circle may do"
    return tuple(
        replace(one, words=wrong.format(one.rule))
        if one.rule in {5, 6} and one.words == Status.SOLVER_SAYS.value
        else one
        for one in verdicts
    )


def _lines(working: Mapping[str, Any]) -> Iterator[Mapping[str, Any]]:
    """Give what stands of rules 5 and 6, in the second pass too."""
    yield from working["rules"][4:6]
    if working.get("second"):
        yield from working["second"]["rules"][4:6]


def _without_duals(line: Mapping[str, Any]) -> bool:
    return line["tree"] is None if "tree" in line else None in line["trees"]


def _could_meet(case: Mapping[str, Any]) -> int:
    """Count spares and claims that ask for their variety, whatever else stands between them."""
    spares = Counter(one["variety_id"] for one in case["spares"])
    return sum(
        spares[variety]
        for one in case["claims"]
        for variety in {one["variety_id"], *one["alternatives"]}
    )
