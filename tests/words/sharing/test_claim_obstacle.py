"""What a claim that nothing offered can meet is told, and the words on its button."""

from dataclasses import replace
from datetime import date

import pytest

from exchange.domain.growing.batch import Material
from exchange.domain.sharing.reason import ClaimOutcome, ClaimReason, Obstacle
from exchange.words.sharing.claim_obstacle import cannot_be_met, press
from tests.builders.circles import a_claim

CLAIM = a_claim(no_use_after=date(2027, 4, 9))
UNROOTED = CLAIM.materials | {Material.UNROOTED}


def test_it_says_first_that_nothing_can_and_then_why():
    reason = ClaimReason(ClaimOutcome.UNMET, 1, 0, Obstacle.MATERIAL)

    assert cannot_be_met(reason) == (
        "Nothing offered can meet it yet. It is offered, but not as anything ticked in the claim."
    )


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"materials": UNROOTED}, "Also take unrooted cuttings"),
        ({"no_use_after": date(2027, 5, 3)}, "Take it until Mon 3 May"),
        ({"place_id": 7}, "Have it sent to Long Acre"),
        ({"materials": UNROOTED, "no_use_after": date(2027, 5, 3)},
         "Also take unrooted cuttings and take it until Mon 3 May"),
    ],
)  # fmt: skip
def test_the_button_says_what_it_changes(change, words):
    assert press(CLAIM, replace(CLAIM, **change), {7: "Long Acre"}).replace("\xa0", " ") == words
