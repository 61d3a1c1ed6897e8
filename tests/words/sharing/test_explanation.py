"""What would have been is read as English: each promise is kept when it is done, each loss is one that followed."""

import os
from datetime import date

import pytest

from exchange.domain.growing.batch import Material
from exchange.domain.growing.shelter import ShelterKind
from exchange.domain.sharing.changes import ChangeKind, Counterfactual, what_would_change
from exchange.domain.sharing.explanation import WhatIf, what_if, with_one_more
from exchange.domain.sharing.reason import ClaimOutcome, ClaimReason, Rule
from exchange.domain.sharing.share_out import find, never_stop, work_out
from exchange.words.growing import plants
from exchange.words.sharing.asker import Asker
from exchange.words.sharing.explanation import carried_over, change_sentences, had_sentence
from tests.builders.circles import hindered_circle
from tests.builders.promises import applied, untrue_of_one_more

PROMISED = int(30 * float(os.environ.get("EXCHANGE_TEST_SCALE", "1")))
CIRCLES = int(20 * float(os.environ.get("EXCHANGE_TEST_SCALE", "1")))
UNMET = ClaimReason(ClaimOutcome.UNMET, 1, 0)


def lost(case, found):
    return [one for one in case.claims if found.reasons[one.id].given < one.asked]


def promises():
    """Give what is promised to two claims of every circle, with the plants each was given."""
    for number in range(100_000):
        case = hindered_circle(number)
        if len(case.households) > 8:
            continue
        found = work_out(case)
        named = {one.id: plants.variety(one.species, one.name) for one in case.varieties}
        open_claims = lost(case, found)
        for claim in open_claims[:: max(1, len(open_claims) // 2)]:
            tried = what_would_change(case, found, claim.id)
            for sentence in change_sentences(tried.found, named, every=tried.every):
                if tried.found:
                    yield case, claim, found.reasons[claim.id].given, sentence


def test_what_is_promised_holds_when_it_is_done_and_worked_out_again():
    broken = []
    for count, (case, claim, given, sentence) in enumerate(promises(), start=1):
        more, changed = applied(case, claim, sentence)

        after = find(changed, never_stop).allocations

        if sum(one.count for one in after if one.claim_id == claim.id) - given != more:
            broken.append((claim.id, sentence))
        if count >= PROMISED:
            break
    assert broken == []


@pytest.mark.parametrize("number", range(CIRCLES))
def test_who_is_said_to_lose_by_one_plant_more_does_lose(number):
    case = hindered_circle(number)
    found = work_out(case)

    faults = []
    for claim in lost(case, found)[::4]:
        instead = with_one_more(case, found, claim.id)
        sentence = had_sentence(what_if(case, found, claim.id))
        if instead is None:
            assert "no sharing out gives it" in sentence
        else:
            ends = found.allocations, instead.allocations
            faults += untrue_of_one_more(case, claim, *ends, sentence)

    assert faults == []


@pytest.mark.parametrize(
    ("losses", "said"),
    [
        (
            {"with_nothing": 1, "with_none": 2},
            "another household would have been given nothing at all",
        ),
        ({"with_none_of_it": 2, "with_none": 3}, "2 other households would have had none of it"),
        ({"with_none": 1}, "another household would have gone without a variety altogether"),
        ({"with_less": 1, "with_fewer": 2}, "another household would have had fewer plants"),
        ({"with_fewer": 1}, "another household would have had fewer of a variety"),
        ({"own_less": 1}, "your other claims would have had 1\xa0plant fewer"),
    ],
)
def test_the_worst_that_would_have_followed_is_said(losses, said):
    sentence = had_sentence(WhatIf(1, UNMET, True, Rule.WISHES, 3, **losses))

    assert sentence == f"Had you had it, {said} and wishes would have been met less well."


def test_more_than_the_most_is_said_to_be_so():
    part = ClaimReason(ClaimOutcome.PART, 3, 2)

    sentence = had_sentence(WhatIf(1, part, True, with_less=1, beyond=2))

    assert sentence == (
        "Had you had one more, you would have had more than the 2 of it that a household has at first"
        " and another household would have had fewer plants."
    )


def test_to_another_reader_the_household_is_named():
    effie, part = Asker("Effie"), ClaimReason(ClaimOutcome.PART, 3, 2)
    choice = (Counterfactual(ChangeKind.CHOICE, 1, choice=2),)

    assert had_sentence(WhatIf(1, part, True, own_less=1, beyond=2), effie) == (
        "Had Effie had one more, Effie would have had more than the 2 of it that a household has at"
        " first and Effie’s other claims would have had 1\xa0plant fewer."
    )
    assert change_sentences(choice, {}, every=True, asker=effie) == [
        "As Effie’s second choice it would have brought 1\xa0plant more."
    ]
    assert change_sentences((), {}, every=True, asker=effie) == [
        "No single thing Effie could change would have brought more, all else equal."
    ]
    assert [carried_over(1, one) for one in (Asker(), effie)] == [
        "Your claim for 1\xa0plant stays open and counts in the next share-out.",
        "Effie’s claim for 1\xa0plant stays open and counts in the next share-out.",
    ]


def test_each_change_is_said_as_what_is_to_be_done():
    changes = (
        Counterfactual(ChangeKind.MATERIAL, 1, material=Material.UNROOTED),
        Counterfactual(ChangeKind.LATER, 1, until=date(2027, 5, 4)),
        Counterfactual(ChangeKind.TRAY, 2, shelter=ShelterKind.COLD),
        Counterfactual(ChangeKind.TRAY, 2),
        Counterfactual(ChangeKind.HARDENED, 1),
        Counterfactual(ChangeKind.CHOICE, 1, choice=2),
        Counterfactual(ChangeKind.ASKED, 1, asked=1),
        Counterfactual(ChangeKind.ALTERNATIVE, 1, variety_id=7),
    )

    assert change_sentences(changes, {7: "Dahlia ‘Tin Whistle’"}, every=True) == [
        "Taking unrooted cuttings too would have brought 1\xa0plant more.",
        "Taking it until Tue\xa04\xa0May would have brought 1\xa0plant more.",
        "Room for one seed tray more in the cold greenhouse or frame would have brought 2\xa0plants more.",
        "Room for one seed tray more would have brought 2\xa0plants more.",
        "Hardened off first by the sender, it would have brought 1\xa0plant more.",
        "As your second choice it would have brought 1\xa0plant more.",
        "Asking for 1\xa0plant would have brought 1\xa0plant more.",
        "Taking Dahlia ‘Tin Whistle’ instead, if need be, would have brought 1\xa0plant more.",
    ]


def test_nothing_is_said_to_help_only_where_everything_was_tried():
    assert change_sentences((), {}, every=True) == [
        "No single thing you could change would have brought more, all else equal."
    ]
    assert change_sentences((), {}, every=False) == [
        "Nothing that was tried would have brought more, but not everything was tried."
    ]
