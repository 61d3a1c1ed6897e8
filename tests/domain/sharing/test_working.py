"""The checker of workings: it proves what is right, and names the first line that is not."""

import copy
import hashlib
import json
from functools import cache

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from exchange.domain.sharing.instance import FORM, case_from, case_values, fingerprinted
from exchange.domain.sharing.measure import measure
from exchange.domain.sharing.model import build
from exchange.domain.sharing.pairing import pair_up
from exchange.domain.sharing.share_out import work_out
from exchange.domain.sharing.working import check, in_order
from tests.builders.circles import (
    a_case,
    a_claim,
    a_spare,
    a_variety,
    middling_circle,
    tiny_circle,
)


@cache
def a_working_text(number=1, members=12):
    return json.dumps(work_out(middling_circle(number, members)).working)


def a_working(number=1, members=12):
    return json.loads(a_working_text(number, members))


def words(working):
    return [one.words for one in check(working)]


def signed_again(working):
    """What a forger would do: change the file and give it a fresh fingerprint."""
    return fingerprinted({key: one for key, one in working.items() if key != "fingerprint"})


def test_a_case_comes_back_from_its_file_and_gives_the_same_share_out():
    case = middling_circle(5, 12)

    again = case_from(json.loads(json.dumps(case_values(case))))

    assert work_out(again).allocations == work_out(case).allocations
    assert case_values(again) == case_values(case)


def test_the_same_case_gives_the_same_working_to_the_last_figure():
    assert work_out(middling_circle(5, 12)).working == work_out(middling_circle(5, 12)).working


def test_a_working_holds_no_name_and_no_position_of_a_place():
    text = a_working_text()

    assert "Household" not in text
    assert "Plot" not in text
    assert "latitude" not in text


def a_spare_given_twice(working):
    working["allocations"][0][2] += working["case"]["spares"][0]["count"] + 5
    return "more plants"


def an_allocation_to_a_stranger(working):
    working["allocations"][0][1] = 9999
    return "names claim 9999, which is not there"


def a_value_made_larger(working):
    working["rules"][3]["value"] += 1
    return "rule 4 says"


def a_bound_made_smaller(working):
    working["rules"][2]["bound"] -= 1
    return "bound that its own value betters"


def a_bound_made_larger(working):
    working["rules"][1]["bound"] += 1
    return "rule 2"


def duals_struck_out(working):
    for leaf in working["rules"][3]["tree"]:
        leaf["duals"] = []
    return "the duals prove"


def a_negative_dual(working):
    leaf = working["rules"][1]["tree"][0]
    leaf["duals"] = [[row, -abs(dual)] for row, dual in leaf["duals"]]
    return "negative"


def spares_made_larger(working):
    for spare in working["case"]["spares"]:
        spare["count"] += 3
    return "rule"


def a_plant_taken_from_the_shared(working):
    working["allocations"] = working["allocations"][1:]
    return "rule"


def two_rules_exchanged(working):
    rules = working["rules"]
    rules[1], rules[2] = rules[2], rules[1]
    return "not in its place"


def a_status_made_better(working):
    for line in working["rules"]:
        line["status"] = "proven"
    working["rules"][3]["tree"] = []
    return "a branch has no leaf"


FORGERIES = (
    a_spare_given_twice,
    an_allocation_to_a_stranger,
    a_value_made_larger,
    a_bound_made_smaller,
    a_bound_made_larger,
    duals_struck_out,
    a_negative_dual,
    spares_made_larger,
    a_plant_taken_from_the_shared,
    two_rules_exchanged,
    a_status_made_better,
)


@pytest.mark.parametrize("forge", FORGERIES)
def test_a_forged_working_is_called_wrong_and_the_fault_is_named(forge):
    working = a_working()
    fault = forge(working)

    told = words(signed_again(working))

    wrong = [one for one in told if one.startswith("WRONG")]
    assert wrong, told
    assert any(fault in one for one in wrong), wrong


def numbers_in(value, path=()):
    """Give the path to every number in a working."""
    if isinstance(value, bool):
        return
    if isinstance(value, int):
        yield path
    elif isinstance(value, dict):
        for key in sorted(value):
            yield from numbers_in(value[key], (*path, key))
    elif isinstance(value, list):
        for place, one in enumerate(value):
            yield from numbers_in(one, (*path, place))


@cache
def places_of_numbers():
    return tuple(numbers_in(a_working()))


@settings(max_examples=40, deadline=None, derandomize=True)
@given(st.data())
def test_any_changed_number_is_caught(data):
    working = copy.deepcopy(a_working())
    *way, last = data.draw(st.sampled_from(places_of_numbers()))
    holder = working
    for step in way:
        holder = holder[step]
    holder[last] += data.draw(st.integers(-3, 3).filter(bool))

    assert any(one.startswith("WRONG") for one in words(working))


@settings(max_examples=25, deadline=None, derandomize=True)
@given(rule=st.integers(0, 5), key=st.sampled_from(["value", "bound"]), by=st.integers(-9, 9))
def test_a_changed_value_or_bound_is_caught_even_under_a_fresh_fingerprint(rule, key, by):
    working = a_working()
    line = working["rules"][rule]
    if by == 0 or line["value"] is None or line["status"] != "proven":
        return
    line[key] += by

    assert any(one.startswith("WRONG") for one in words(signed_again(working)))


@pytest.mark.parametrize(
    "file", [{}, {"case": {}}, {"case": None, "rules": 3}, {"case": {"closes_on": "x"}}]
)
def test_a_file_that_is_no_working_is_called_wrong_and_raises_nothing(file):
    (verdict,) = check(file)

    assert verdict.wrong
    assert "cannot be read" in verdict.words


@pytest.mark.parametrize("form", [None, 1, FORM - 2, FORM + 1])
def test_a_working_of_another_form_is_not_checked_and_not_called_wrong(form):
    working = {**a_working(), "form": form}
    if form is None:
        del working["form"]

    (verdict,) = check(signed_again(working))

    assert verdict.words.startswith("not checked")
    assert not verdict.wrong
    assert not in_order((verdict,))


def test_a_form_that_was_changed_by_hand_is_called_wrong():
    assert words({**a_working(), "form": FORM + 1})[0].startswith("WRONG: the fingerprint")


def written_as(case):
    """Sum up all that the numbers of a working rest on: the rows, what each rule counts, and the case."""
    pairs = pair_up(case)
    layout = build(case, pairs, measure(case, pairs))
    model = layout.model
    rows = [model.upper, model.listed(), model.limits, sorted(model.aims.items()), layout.steps]
    text = json.dumps([rows, case_values(case)], sort_keys=True)
    return hashlib.sha256(text.encode()).hexdigest()


def a_case_with_a_bit_of_everything():
    varieties = (a_variety(must_not_be_lost=True), a_variety(2), a_variety(3))
    spares = (a_spare(), a_spare(2, variety=2), a_spare(3, household=2, variety=3, count=3))
    claims = (
        a_claim(),
        a_claim(2, household=3, asked=2, choice=2),
        a_claim(3, household=3, variety=2, choice=3),
        a_claim(4, variety=2, alternatives=(3, 1)),
        a_claim(5, household=4, variety=3, asked=3),
    )
    return a_case(varieties=varieties, spares=spares, claims=claims, given={4: 1}, received={3: 1})


def test_the_form_rises_when_workings_are_written_otherwise():
    """Should this fail, raise FORM, then write the new values here."""
    assert (FORM, written_as(a_case_with_a_bit_of_everything())) == (
        4,
        "d11d8f6ebc60e719e9dfc7438c36a27edde447ee879d41ed8bde892b138e87d4",
    )


def test_tiny_circles_are_proven_on_every_rule():
    for number in range(30):
        told = [one.words[:23] for one in check(work_out(tiny_circle(number)).working)]
        assert set(told) <= {"proven", "skipped", "kept in every plain tie"}, number


def a_plain_tie():
    """One plant, and two households that ask for it alike."""
    return a_case(
        spares=(a_spare(1, household=1),),
        claims=(a_claim(1, household=2), a_claim(2, household=3)),
    )


def test_the_draw_is_told_with_the_hash_of_its_number():
    case = a_plain_tie()
    draw = check(work_out(case).working)[-1]

    assert draw.name == "draw"
    assert draw.words.endswith(hashlib.sha256(case.draw_number.encode()).hexdigest())


def test_a_plant_given_to_a_claim_that_drew_lower_is_told_though_every_rule_is_equal():
    working = work_out(a_plain_tie()).working
    ((spare, claim, count),) = working["allocations"]
    other = 3 - claim
    forged = signed_again({**working, "allocations": [[spare, other, count]]})

    *rules, draw = check(forged)

    assert not [one for one in rules if one.wrong]
    assert (
        draw.words
        == f"WRONG: claim {claim} drew higher than claim {other}, which has a plant of spare 1"
    )
    assert not in_order((*rules, draw))
