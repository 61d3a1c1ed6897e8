"""A working in which an id is doubled, missing or points nowhere is refused, with a fingerprint made anew or not."""

import copy
import json
from functools import cache

import pytest

from exchange.domain.sharing.case_check import check_ids
from exchange.domain.sharing.instance import case_values, fingerprinted
from exchange.domain.sharing.share_out import work_out
from exchange.domain.sharing.working import check
from tests.builders.circles import middling_circle


@cache
def a_working_text():
    return json.dumps(work_out(middling_circle(1, 8)).working)


def twice(name):
    def tamper(working):
        rows = working["case"][name]
        rows.append(copy.deepcopy(rows[0]))

    return tamper


def removed(name):
    def tamper(working):
        del working["case"][name][0]

    return tamper


def another_id(name, column):
    def tamper(working):
        working["case"][name][0][column] = 9999

    return tamper


def somebody_elses_place(working):
    case = working["case"]
    own = dict(case["places"])
    claim = case["claims"][0]
    claim["place_id"] = next(one for one in own if own[one] != claim["household_id"])


def an_allocation_twice(working):
    working["allocations"].append(list(working["allocations"][0]))


def an_allocation_of_nothing(working):
    working["allocations"][0][0] = 9999


def an_alternative_nobody_knows(working):
    working["case"]["claims"][0]["alternatives"] = [9999]


def given_twice(working):
    household = working["case"]["households"][0][0]
    working["case"]["given"] = [[household, 3], [household, 5]]


def kept_apart_from_nobody(working):
    working["case"]["forbids"] = [[working["case"]["spares"][0]["id"], 9999]]


TAMPERED = {
    "a claim doubled": (twice("claims"), "claim 1 is there twice"),
    "a spare doubled": (twice("spares"), "spare 1 is there twice"),
    "a shelter doubled": (twice("shelters"), "kind of shelter of a place"),
    "a household doubled": (twice("households"), "is there twice"),
    "a place doubled": (twice("places"), "is there twice"),
    "a variety doubled": (twice("varieties"), "is there twice"),
    "a household removed": (removed("households"), "which is not there"),
    "a place removed": (removed("places"), "which is not there"),
    "a variety removed": (removed("varieties"), "which is not there"),
    "a claim of a stranger": (another_id("claims", "household_id"), "names household 9999"),
    "a spare of a stranger": (another_id("spares", "household_id"), "names household 9999"),
    "a claim for an unknown variety": (another_id("claims", "variety_id"), "names variety 9999"),
    "a claim at somebody else's place": (somebody_elses_place, "another household's place"),
    "an allocation twice": (an_allocation_twice, "is there twice"),
    "an allocation of nothing": (an_allocation_of_nothing, "names spare 9999"),
    "an unknown alternative": (an_alternative_nobody_knows, "names variety 9999"),
    "given twice": (given_twice, "household under given"),
    "kept apart from nobody": (kept_apart_from_nobody, "names claim 9999"),
}


def tampered(name):
    working = json.loads(a_working_text())
    TAMPERED[name][0](working)
    return fingerprinted({key: one for key, one in working.items() if key != "fingerprint"})


@pytest.mark.parametrize("name", TAMPERED)
def test_each_is_printed_as_wrong_and_named(name):
    (verdict,) = check(tampered(name))

    assert verdict.words.startswith("WRONG: ")
    assert TAMPERED[name][1] in verdict.words


def test_the_working_as_it_was_written_passes():
    working = json.loads(a_working_text())

    check_ids(working)
    assert not [one for one in check(working) if one.wrong]


@pytest.mark.parametrize("number", range(20))
def test_no_random_circle_is_refused_for_its_ids(number):
    working = {"case": json.loads(json.dumps(_values(number))), "allocations": []}

    check_ids(working)


def _values(number):
    return case_values(middling_circle(number + 2000))
