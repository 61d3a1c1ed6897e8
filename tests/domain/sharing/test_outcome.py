"""Rules 5 and 6 and the draw cannot be opted out of in a small circle; other forgeries are named too."""

import json
import os
from functools import cache

import pytest

from exchange.domain.sharing.instance import fingerprinted
from exchange.domain.sharing.outcome import SMALL_CIRCLE, within_percent
from exchange.domain.sharing.share_out import work_out
from exchange.domain.sharing.working import check
from tests.builders.circles import middling_circle

HONEST = int(14 * float(os.environ.get("EXCHANGE_TEST_SCALE", "1")))


@cache
def a_working_text():
    return json.dumps(work_out(middling_circle(7010, 12)).working)


def a_working():
    return json.loads(a_working_text())


def signed_again(working):
    return fingerprinted({key: one for key, one in working.items() if key != "fingerprint"})


def leave_out(line):
    """Leave the duals out, and call the value what the solver says."""
    if "tree" in line:
        line["tree"] = None
    else:
        line["trees"] = [None for _ in line["trees"]]
    line["status"], line["bound"] = "as the solver says", line["value"]


def trees_left_out(working):
    leave_out(working["rules"][4])
    return "rule 5 rests on the solver's word alone"


def trees_emptied(working):
    line = working["rules"][4]
    name = "tree" if "tree" in line else "trees"
    line[name] = []
    return "WRONG"


def one_parcel_more(working):
    line = working["rules"][4]
    line["value"] += 1
    line["bound"] += 1
    return "rule 5 says"


def one_parcel_less(working):
    working["rules"][4]["value"] -= 1
    return "rule 5"


def a_plant_more(working):
    working["allocations"][0][2] += 50
    return "more plants"


def the_solvers_word(working):
    """Claim the value to be the best, on the word of a solver, where the duals prove less."""
    line = working["rules"][4]
    line["tree"] = [{"path": [], "scale": 1, "duals": []}]
    line["status"], line["bound"] = "as the solver says", line["value"]
    return "rule 5 rests on the solver's word alone"


def a_better_bound(working):
    """Claim a bound that the duals do not prove."""
    line = working["rules"][4]
    line["tree"] = [{"path": [], "scale": 1, "duals": []}]
    line["bound"] = line["value"] - 1
    line["status"] = f"within {within_percent(line['value'], line['bound'])} %"
    return "rule 5 rests on the solver's word alone"


def a_rule_missing(working):
    working["rules"].pop()
    return "WRONG"


@pytest.mark.parametrize(
    "tamper",
    [
        trees_left_out,
        trees_emptied,
        one_parcel_more,
        one_parcel_less,
        a_plant_more,
        the_solvers_word,
        a_better_bound,
        a_rule_missing,
    ],
    ids=lambda one: one.__name__,
)
def test_a_forgery_with_a_fingerprint_made_anew_is_wrong_and_named(tamper):
    working = a_working()
    named = tamper(working)

    wrong = [one.words for one in check(signed_again(working)) if one.wrong]

    assert any(named in words for words in wrong), wrong


def test_the_working_as_it_was_written_passes():
    assert not [one for one in check(a_working()) if one.wrong]


def test_a_large_circle_may_leave_them_out():
    working = a_working()
    trees_left_out(working)
    assert [one.rule for one in check(signed_again(working)) if one.wrong] == [5]

    working["case"]["households"] += [[number, False] for number in range(900, 901 + SMALL_CIRCLE)]

    assert not [one for one in check(signed_again(working)) if one.wrong]


def test_no_honest_small_circle_rests_on_the_solvers_word():
    """Circles of 5 to 60 households; where the duals prove less than the value, it is "within x %"."""
    told = []
    for number in range(HONEST):
        working = work_out(middling_circle(9000 + number, 5 + 11 * number % 56)).working
        verdicts = check(working)
        assert not [one.words for one in verdicts if one.wrong], number
        told += [one.words for one in verdicts if one.rule in {5, 6}]

    assert not [
        words for words in told if words not in {"proven", "skipped"} and "within" not in words
    ]
    assert sum("within" in words for words in told) < told.count("proven")


def test_in_a_large_circle_the_solvers_word_is_told_as_what_it_is():
    working = a_working()
    the_solvers_word(working)
    working["case"]["households"] += [[number, False] for number in range(900, 901 + SMALL_CIRCLE)]

    verdicts = check(signed_again(working))

    assert next(one.words for one in verdicts if one.rule == 5) == "as the solver says"
