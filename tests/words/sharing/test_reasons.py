"""Every sentence printed of a claim is read again as English and held against the result of the share-out."""

import os
import re
from collections import Counter
from datetime import date

import pytest

from exchange.domain.growing.batch import Material
from exchange.domain.sharing.case import Allocation
from exchange.domain.sharing.reason import ClaimOutcome, ClaimReason, Obstacle, WentTo
from exchange.domain.sharing.share_out import work_out
from exchange.words.sharing.asker import Asker
from exchange.words.sharing.reasons import (
    obstacle_sentence,
    plain_obstacle,
    reason_sentence,
    retold,
)
from tests.builders.circles import a_case, a_claim, a_spare, hindered_circle
from tests.builders.reading import untrue
from tests.builders.world import World

CIRCLES = int(30 * float(os.environ.get("EXCHANGE_TEST_SCALE", "1")))


def told(case, claim_id=1):
    """Give the sentence on a claim, and the case with its result counted over again."""
    found = work_out(case)
    return reason_sentence(found.reasons[claim_id]), World(case, found.allocations)


@pytest.mark.parametrize("number", range(CIRCLES))
def test_in_a_random_circle_every_sentence_is_true_of_the_result(number):
    case = hindered_circle(number)
    found = work_out(case)
    world = World(case, found.allocations)

    faults = {
        claim.id: (sentence, wrong)
        for claim in case.claims
        for sentence in [reason_sentence(found.reasons[claim.id])]
        for wrong in [untrue(world, claim, sentence)]
        if wrong
    }

    assert faults == {}


def test_the_random_circles_bring_forth_nearly_every_sentence():
    seen = Counter()
    for number in range(30):
        for reason in work_out(hindered_circle(number)).reasons.values():
            seen[reason.went] += 1
            seen[reason.obstacle] += 1

    # What stays out is rare: all of it is tried one by one in test_went.py.
    assert {one for one in WentTo if not seen[one]} <= {
        WentTo.DRAWN, WentTo.LAST_DRAWN, WentTo.LESS_POSTAGE, WentTo.NONE_LEFT, WentTo.NO_MORE_THAN_YOU,
        WentTo.FEWER_PARCELS, WentTo.BY_RULES,
    }  # fmt: skip
    assert {one for one in Obstacle if not seen[one]} <= {Obstacle.MOST, Obstacle.FEWER}


def test_another_reader_is_told_the_same_with_the_household_named_in_place_of_you():
    named, seen = Asker("Maud and Colin"), Counter()
    for number in range(30):
        for reason in work_out(hindered_circle(number)).reasons.values():
            told, sentence = reason_sentence(reason, named), reason_sentence(reason)

            assert not re.search(r"\byou", told), told
            assert re.sub(r"\byours?\b", "Maud and Colin’s", sentence).replace(
                "you", "Maud and Colin"
            ) == told  # fmt: skip
            seen[sentence != told] += 1

    assert seen[True] > 20


def test_a_sentence_kept_from_before_is_not_told_anew():
    reason = ClaimReason(ClaimOutcome.UNMET, 1, 0, Obstacle.OWN_ONLY)
    sentence = "The only plants offered are your own household’s."

    assert retold(sentence, reason, Asker("Effie")) == (
        "The only plants offered are Effie’s own household’s."
    )
    assert retold("As it was said once.", reason, Asker("Effie")) == "As it was said once."


HIGHER = a_case(
    spares=(a_spare(count=2),),
    claims=(a_claim(choice=2), a_claim(2, household=3), a_claim(3, household=4)),
)
"""Two plants go to two who put the variety first; the third put it second."""


def test_who_put_it_higher_is_told_in_singular_and_plural():
    two, _ = told(HIGHER)
    one, _ = told(a_case(spares=(a_spare(),), claims=HIGHER.claims[:2]))

    assert two == (
        "2\xa0plants were offered and 2\xa0other households asked; they went to members who had put it"
        " higher among their wishes."
    )
    assert one == (
        "1\xa0plant was offered and 1\xa0other household asked; it went to a member who had put it"
        " higher among their wishes."
    )


@pytest.mark.parametrize(
    ("was", "said"),
    [
        ("members who had put it higher among their wishes", "households that had been given less"),
        ("members who had put it higher among their wishes", "households that had none of it yet"),
        ("members who had put it", "a member who had put it"),
        ("to members who had put it higher among their wishes", "so that fewer parcels are needed"),
        (
            "to members who had put it higher among their wishes",
            "by the draw number, since all was equal",
        ),
        ("to members who had put it higher among their wishes", "where it pleased them"),
        ("2\xa0other", "3\xa0other"),
        ("2\xa0plants were", "1\xa0plant was"),
        ("2\xa0plants were", "2\xa0plant was"),
        ("they went", "it went"),
        ("2\xa0plants", "In part only: 2\xa0plants"),
        (r".*", "Nobody offers it."),
        (r".*", "Met in full."),
        (r".*", "It is offered, but not as anything ticked in the claim."),
        (r".*", "There is no room left for it where it would stand."),
        (r".*", "Only 0\xa0plants were offered."),
        (r".*", "Only 2\xa0plants were offered."),
        (r".*", "All that could come to you went to another claim of yours."),
    ],
)
def test_the_reader_notices_a_sentence_that_is_not_true(was, said):
    sentence, world = told(HIGHER)
    changed = re.sub(was, said, sentence, count=1)

    assert changed != sentence
    assert untrue(world, HIGHER.claims[0], sentence) == []
    assert untrue(world, HIGHER.claims[0], changed) != []


def test_one_who_put_it_no_higher_makes_the_sentence_on_wishes_untrue():
    """The pinned plant goes to a third choice, which is not higher than a second one."""
    claims = (a_claim(choice=2), a_claim(2, household=3), a_claim(3, household=4, choice=3))
    case = a_case(spares=(a_spare(count=2),), claims=claims, pins=(Allocation(1, 3, 1),))

    sentence, world = told(case)

    assert sentence == (
        "2\xa0plants were offered and 2\xa0other households asked; none was left for this claim."
    )
    assert untrue(world, claims[0], sentence) == []


def test_plants_that_could_not_have_come_are_told_apart():
    spares = (a_spare(), a_spare(2, material=Material.UNROOTED, count=2))
    case = a_case(spares=spares, claims=(a_claim(asked=2),))

    assert told(case)[0] == "Only 1 of 3\xa0plants offered could come to you."


def test_what_came_to_another_claim_of_ones_own_is_no_member():
    case = a_case(spares=(a_spare(),), claims=(a_claim(choice=3), a_claim(2, choice=1)))

    sentence, world = told(case)

    assert sentence == "All that could come to you went to another claim of yours."
    assert untrue(world, case.claims[0], sentence) == []


def test_no_sentence_tells_of_only_no_plants():
    """The variety itself is nowhere to be had; what would be taken instead went to the other."""
    spares = (a_spare(variety=2),)
    claims = (a_claim(alternatives=(2,), choice=3), a_claim(2, household=3, variety=2))

    assert told(a_case(spares=spares, claims=claims))[0] == "Nobody offers it."


def test_in_part_is_said_first_whatever_stands_in_the_way():
    reason = ClaimReason(ClaimOutcome.PART, 2, 1, Obstacle.ROOM)

    assert reason_sentence(reason) == (
        "In part only. There is no room left for it where it would stand."
    )


def test_where_nothing_is_known_nothing_is_made_up():
    assert reason_sentence(ClaimReason(ClaimOutcome.UNMET, 1, 0)) == "Not met."
    assert reason_sentence(ClaimReason(ClaimOutcome.PART, 2, 1)) == "Met in part."


def test_an_obstacle_is_told_with_its_own_day_caution_and_authority():
    shelter = ClaimReason(ClaimOutcome.UNMET, 1, 0, Obstacle.SHELTER, fits_from=date(2027, 5, 20))
    border = ClaimReason(ClaimOutcome.UNMET, 1, 0, Obstacle.BORDER)

    assert obstacle_sentence(shelter).endswith("would stand before about 20\xa0May.")
    assert obstacle_sentence(border) == (
        "A border lies between. Plants may not pass it without papers. Ask the plant health service."
    )
    assert plain_obstacle(Obstacle.ROOM) == "There is no room left for it where it would stand."


def test_every_statement_has_its_words_for_one_household_and_for_several():
    for went in WentTo:
        for winners in (1, 2):
            if (went, winners) != (WentTo.LESS_OR_EARLIER, 1):
                reason = ClaimReason(
                    ClaimOutcome.UNMET,
                    1,
                    0,
                    others=2,
                    offered=2,
                    in_all=2,
                    went=went,
                    winners=winners,
                )
                assert reason_sentence(reason).endswith(".")
