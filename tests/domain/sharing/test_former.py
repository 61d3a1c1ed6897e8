"""Workings of the form before this one, as the program of their time wrote them, are still checked by their own rules."""

import copy
import json
from functools import cache
from pathlib import Path

import pytest

from exchange.domain.sharing.case import SharingTerms
from exchange.domain.sharing.former import FORMER, former_shift
from exchange.domain.sharing.instance import FORM, fingerprinted
from exchange.domain.sharing.working import check, in_order

KEPT = Path(__file__).parent / "former"
NAMES = sorted(one.stem for one in KEPT.glob("*.json"))


@cache
def text_of(name):
    return (KEPT / f"{name}.json").read_text()


def kept(name):
    return json.loads(text_of(name))


def signed_again(working):
    return fingerprinted({key: one for key, one in working.items() if key != "fingerprint"})


@pytest.mark.parametrize("name", NAMES)
def test_a_former_working_is_in_order_and_every_rule_proven(name):
    working = kept(name)
    verdicts = check(working)

    assert working["form"] == FORMER == FORM - 1
    assert in_order(verdicts)
    assert {one.words for one in verdicts[:-1]} <= {"proven", "skipped"}
    assert verdicts[-1].words.startswith("kept in every plain tie")


def test_they_hold_a_variety_that_must_not_be_lost_and_something_contested():
    lines = kept("precious")["rules"]
    assert lines[0]["value"] > 0
    assert lines[0]["trees"]
    assert lines[2]["value"] > 0


def a_slope_changed(working):
    working["rules"][0]["trees"][0][0]["slopes"][0][1] *= 3
    return "rule 1 is called proven"


def a_slope_struck_out(working):
    working["rules"][0]["trees"][0][0]["slopes"].pop()
    return "one slope a variety"


def a_value_of_rule_1_raised(working):
    working["rules"][0]["value"] += 1
    return "rule 1 says"


def a_plant_taken_back(working):
    working["allocations"].pop()
    return "says"


def a_tree_emptied(working):
    working["rules"][2]["trees"] = []
    return "tree for each region"


def duals_of_the_wishes_struck_out(working):
    working["rules"][3]["trees"][0][0]["duals"] = []
    return "the duals prove"


FORGERIES = (
    a_slope_changed,
    a_slope_struck_out,
    a_value_of_rule_1_raised,
    a_plant_taken_back,
    a_tree_emptied,
    duals_of_the_wishes_struck_out,
)


@pytest.mark.parametrize("forge", FORGERIES)
def test_a_forged_one_is_called_wrong_and_the_fault_is_named(forge):
    working = copy.deepcopy(kept("precious"))
    fault = forge(working)

    told = [one.words for one in check(signed_again(working))]

    assert any(one.startswith("WRONG") and fault in one for one in told), told


def test_one_that_is_said_to_be_of_this_form_is_called_wrong():
    assert any(one.wrong for one in check(signed_again({**kept("plain"), "form": FORM})))


@pytest.mark.parametrize(
    ("given", "received", "steps"),
    [(0, 0, 2), (3, 1, 2), (1, 1, 0), (2, 2, 0), (1, 3, -2), (0, 1, -2)],
)
def test_its_shift_was_by_sign(given, received, steps):
    assert former_shift(SharingTerms(shift=2), given, received) == steps
