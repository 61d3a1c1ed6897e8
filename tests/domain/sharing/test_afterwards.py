"""After a share-out nobody who has something is moved; what is explained is what the rules would do."""

import os
from collections import Counter
from dataclasses import replace
from datetime import timedelta

import pytest

from exchange.domain.growing.batch import Material, Raised
from exchange.domain.growing.shelter import Shelter, ShelterKind
from exchange.domain.sharing.afterwards import (
    LeftOverRefused,
    as_they_stand,
    give_reserve,
    take_left_over,
)
from exchange.domain.sharing.case import Allocation, SharingTerms
from exchange.domain.sharing.changes import ChangeKind, what_would_change
from exchange.domain.sharing.draw import drawn, order_of_ties, shown_at_opening
from exchange.domain.sharing.explanation import what_if
from exchange.domain.sharing.measure import measure, shifts
from exchange.domain.sharing.pairing import pair_up
from exchange.domain.sharing.preview import changed_by
from exchange.domain.sharing.reason import ClaimOutcome, Obstacle, Rule
from exchange.domain.sharing.rules import check_feasible
from exchange.domain.sharing.share_out import work_out
from exchange.words.sharing.explanation import change_sentences, had_sentence
from tests.builders.circles import CLOSES, a_case, a_claim, a_spare, middling_circle, tiny_circle

CIRCLES = int(40 * float(os.environ.get("EXCHANGE_TEST_SCALE", "1")))


def standing(case, allocations, **changes):
    """The case as the records tell it after confirming: what was given is kept."""
    return replace(case, kept=tuple(allocations), **changes)


def without(case, allocations, spare_id):
    """The case after the sender of a spare could send none of it."""
    spares = tuple(one for one in case.spares if one.id != spare_id)
    kept = tuple(one for one in allocations if one.spare_id != spare_id)
    return standing(case, kept, spares=spares)


@pytest.mark.parametrize("number", range(CIRCLES))
def test_the_reserve_is_as_good_as_a_share_out_in_which_nobody_else_moves(number):
    case = tiny_circle(number + 500)
    first = work_out(case)
    for failed in {one.spare_id for one in first.allocations}:
        after = without(case, first.allocations, failed)
        variety = next(one.variety_id for one in case.spares if one.id == failed)

        more = give_reserve(after, variety)

        varieties = {one.id: one.variety_id for one in after.spares}
        assert {varieties[one.spare_id] for one in more} <= {variety}
        pairs = pair_up(after)
        every = added(after.kept, more)
        check_feasible(replace(after, contested=frozenset()), every, measure(after, pairs))
        if len({one.variety_id for one in case.spares}) == 1:
            assert every == work_out(after).allocations


def added(kept, more):
    """Add up what stands and what is given, as a share-out tells it."""
    counts = Counter()
    for one in (*kept, *more):
        counts[one.spare_id, one.claim_id] += one.count
    return tuple(Allocation(*key, count) for key, count in sorted(counts.items()))


def test_the_reserve_goes_to_who_has_none_before_who_has_one():
    """Without knowing what stands, the first wish would win; with it, the one who has none."""
    claims = (a_claim(asked=2, choice=1), a_claim(2, household=3, choice=3))
    case = a_case(spares=(a_spare(count=3),), claims=claims)

    more = give_reserve(standing(case, (Allocation(1, 1, 1),), spares=(a_spare(count=2),)), 1)

    assert more == (Allocation(1, 2, 1),)


def test_what_was_answered_with_no_is_not_given_to_the_same_claim():
    claims = (a_claim(choice=1), a_claim(2, household=3, choice=2))
    case = a_case(spares=(a_spare(),), claims=claims, forbids=((1, 1),))
    assert give_reserve(case, 1) == (Allocation(1, 2, 1),)


def test_a_spare_or_claim_that_is_to_stay_as_it_stands_gives_and_gets_no_more():
    """Claim 2 has one and lacks one, claim 3 has none; spare 2 has nothing promised."""
    claims = (
        a_claim(choice=3),
        a_claim(2, household=3, asked=2),
        a_claim(3, household=4),
    )
    spares = (a_spare(count=2), a_spare(2, household=5))
    case = standing(a_case(spares=spares, claims=claims), (Allocation(1, 2, 1),))

    still = as_they_stand(case, spares={2}, claims={2, 3})

    assert [(one.id, one.count) for one in still.spares] == [(1, 2)]
    assert [(one.id, one.asked) for one in still.claims] == [(1, 1), (2, 1)]
    assert give_reserve(still, 1) == (Allocation(1, 1, 1),)
    assert sum(one.count for one in give_reserve(case, 1)) == 2, "else both spares would go"


def test_the_reserve_of_one_variety_leaves_what_is_left_of_others():
    spares = (a_spare(), a_spare(2, variety=2))
    claims = (a_claim(), a_claim(2, household=3, variety=2))
    assert give_reserve(a_case(spares=spares, claims=claims), 1) == (Allocation(1, 1, 1),)


def test_the_most_of_a_variety_holds_for_the_reserve_too():
    claims = (a_claim(asked=3), a_claim(2, household=1))
    spares = (a_spare(), a_spare(2, household=4), a_spare(3, household=5))
    case = standing(
        a_case(spares=spares, claims=claims), (Allocation(1, 1, 1), Allocation(2, 1, 1))
    )
    assert give_reserve(case, 1) == (Allocation(3, 2, 1),)
    alone = replace(case, claims=claims[:1], spares=spares)
    assert give_reserve(alone, 1) == (Allocation(3, 1, 1),), "what nobody else wants is not held"


def test_left_overs_are_what_nobody_was_given_and_go_first_come():
    case = a_case(spares=(a_spare(count=3),), claims=(a_claim(),))
    given = work_out(case).allocations

    more = take_left_over(standing(case, given), 1, a_claim(7, household=2, asked=2))

    assert more == Allocation(1, 7, 2)
    gone = standing(case, (*given, more), claims=(*case.claims, a_claim(7, asked=2)))
    with pytest.raises(LeftOverRefused) as refused:
        take_left_over(gone, 1, a_claim(8, household=2))
    assert refused.value.obstacle is Obstacle.FEWER


def test_a_left_over_may_go_beyond_the_most_of_a_contested_variety():
    """Two of other spares stand already; everybody was served before the third was left over."""
    spares = tuple(a_spare(number, household=number + 3) for number in (1, 2, 3))
    claims = (a_claim(asked=3), a_claim(2, household=3))
    case = standing(
        a_case(spares=spares, claims=claims), (Allocation(1, 1, 1), Allocation(2, 1, 1))
    )
    assert take_left_over(case, 3, a_claim(7)) == Allocation(3, 7, 1)


def test_a_left_over_that_comes_to_just_the_most_of_a_contested_variety_is_to_be_had():
    spares = tuple(a_spare(number, household=number + 3) for number in (1, 2))
    claims = (a_claim(asked=2), a_claim(2, household=3))
    case = standing(a_case(spares=spares, claims=claims), (Allocation(1, 1, 1),))
    assert take_left_over(case, 2, a_claim(7)) == Allocation(2, 7, 1)


def test_of_a_variety_that_is_not_contested_more_than_the_most_are_to_be_had():
    case = a_case(spares=(a_spare(count=5),), claims=(a_claim(2, household=3),))
    assert take_left_over(case, 1, a_claim(7, asked=4)) == Allocation(1, 7, 4)


@pytest.mark.parametrize(
    ("asked", "stands", "fits"), [(2, 0, True), (3, 0, False), (1, 1, True), (2, 1, False)]
)
def test_a_left_over_may_fill_the_room_that_what_stands_leaves_and_no_more(asked, stands, fits):
    spares, shelters = (
        (a_spare(count=5), a_spare(2, variety=2)),
        (Shelter(2, ShelterKind.INDOORS, 2),),
    )
    case = a_case(spares=spares, claims=(a_claim(variety=2),), shelters=shelters)
    case = standing(case, (Allocation(2, 1, 1),) * stands)
    if fits:
        assert take_left_over(case, 1, a_claim(7, asked=asked)) == Allocation(1, 7, asked)
    else:
        assert refused(case, 1, a_claim(7, asked=asked)) is Obstacle.ROOM


def test_a_left_over_that_will_do_in_the_cold_needs_no_room_indoors():
    shelters = (Shelter(2, ShelterKind.INDOORS, 0), Shelter(2, ShelterKind.COLD, 3))
    spare = a_spare(count=2, raised=Raised.HARDENED, send_by=CLOSES + timedelta(days=60))
    case = a_case(spares=(spare,), claims=(a_claim(),), shelters=shelters)
    assert take_left_over(case, 1, a_claim(7, asked=2)) == Allocation(1, 7, 2)


def test_a_claim_that_asks_for_more_now_takes_the_place_of_what_it_was():
    """Two asked for and two there: were it counted twice, the variety would be contested."""
    case = a_case(
        spares=(a_spare(count=2),), claims=(a_claim(),), terms=SharingTerms(most_contested=1)
    )
    assert take_left_over(case, 1, a_claim(asked=2)) == Allocation(1, 1, 2)


def test_a_left_over_may_be_taken_instead_of_the_variety_asked_for():
    case = a_case(spares=(a_spare(),), claims=(a_claim(2, household=3, variety=2), a_claim()))
    claim = a_claim(7, variety=2, alternatives=(1,))
    assert take_left_over(case, 1, claim) == Allocation(1, 7, 1)


def test_no_left_over_is_put_in_place_of_another_variety():
    case = a_case(spares=(a_spare(),), claims=(a_claim(variety=2),))
    with pytest.raises(LeftOverRefused):
        take_left_over(case, 1, a_claim(variety=2))


def test_alternatives_are_taken_in_their_order():
    spares = (a_spare(variety=2), a_spare(2, variety=3))
    case = a_case(spares=spares, claims=(a_claim(alternatives=(3, 2)),))
    assert work_out(case).allocations == (Allocation(2, 1, 1),)


@pytest.mark.parametrize("number", range(CIRCLES))
def test_a_lost_claim_names_the_rule_that_gives_way_when_it_is_forced(number):
    case = tiny_circle(number)
    found = work_out(case)
    for claim_id, reason in found.reasons.items():
        answer = what_if(case, found, claim_id)
        if reason.rule is not None:
            assert answer.possible
            assert answer.rule is reason.rule
        assert (reason.given < reason.asked) == (reason.standing is not ClaimOutcome.MET)
        assert had_sentence(answer)


def test_had_you_had_it_a_member_who_had_none_would_have_gone_without():
    claims = (a_claim(asked=2), a_claim(2, household=3))
    case = a_case(spares=(a_spare(count=2),), claims=claims)
    answer = what_if(case, work_out(case), 1)
    assert (answer.rule, answer.with_none) == (Rule.ONE_EACH, 1)
    assert had_sentence(answer) == (
        "Had you had one more, another household would have been given nothing at all and fewer first"
        " plants would have been given."
    )


def test_forcing_one_plant_moves_few_households_and_not_the_whole_circle():
    case = middling_circle(6, 20)
    found = work_out(case)
    lost = [claim for claim, reason in found.reasons.items() if reason.rule is not None]
    answers = [what_if(case, found, claim) for claim in lost[:6]]
    assert answers
    assert all(one.with_less <= 6 for one in answers if one.possible)


def test_what_would_change_it_is_worked_out_and_not_guessed():
    spares = (a_spare(material=Material.UNROOTED),)
    case = a_case(spares=spares, claims=(a_claim(),))
    (change,) = what_would_change(case, work_out(case), 1).found
    assert (change.kind, change.material, change.more) == (
        ChangeKind.MATERIAL,
        Material.UNROOTED,
        1,
    )
    assert change_sentences((change,), {}, every=True) == [
        "Taking unrooted cuttings too would have brought 1\u00a0plant more."
    ]


def test_one_more_tray_is_named_where_room_was_lacking():
    shelters = (Shelter(2, ShelterKind.INDOORS, 0),)
    case = a_case(spares=(a_spare(),), claims=(a_claim(),), shelters=shelters)
    assert [one.kind for one in what_would_change(case, work_out(case), 1).found] == [
        ChangeKind.TRAY
    ]


def test_a_preview_counts_the_claims_that_would_change():
    """At most one each in the first pass leaves the second to the draw, in which the third plant comes to household 3."""
    claims = (a_claim(asked=2, choice=1), a_claim(2, household=3, asked=2, choice=3))
    case = a_case(spares=(a_spare(count=3),), claims=claims)
    now = work_out(case)
    other = replace(case.terms, shift=0)
    assert changed_by(case, now, other) == {}
    given = {one.claim_id: one.count for one in now.allocations}
    assert given == {1: 2, 2: 1}
    turned = replace(case, given={3: 9}, received={2: 90})
    assert changed_by(turned, now, turned.terms) == {1: -1, 2: 1}


def test_newcomers_count_as_givers_and_no_shift_exceeds_its_size():
    """A ladder that starts lower is climbed first: who gave most, and a newcomer, start at the foot."""
    case = replace(middling_circle(3, 20), given={1: 9}, received={2: 90})
    starts = shifts(case)
    assert (starts[1], starts[2], starts[3]) == (0, 4, 0)
    assert set(shifts(replace(case, terms=SharingTerms(shift=0))).values()) == {0}


def test_the_draw_is_shown_by_its_hash_and_can_be_recomputed():
    # The published test vector of SHA-256 for "abc": FIPS 180-2, appendix B.1.
    assert shown_at_opening("abc") == (
        "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"
    )
    order = order_of_ties("17", (1, 2, 3, 4))
    assert list(order) == sorted((1, 2, 3, 4), key=lambda one: -drawn("17", one, 0))
    assert order != order_of_ties("18", (1, 2, 3, 4)) or order != order_of_ties("19", (1, 2, 3, 4))


def test_over_many_draws_every_household_wins_a_plain_tie_about_as_often():
    claims = tuple(a_claim(number, household=number + 1) for number in (1, 2, 3))
    case = a_case(spares=(a_spare(),), claims=claims)
    won = Counter(
        work_out(replace(case, draw_number=str(number))).allocations[0].claim_id
        for number in range(150)
    )
    # Binomial with n = 150, p = 1/3: 50, standard deviation 5.8; four of them either way.
    assert all(27 <= won[one] <= 73 for one in (1, 2, 3))


def refused(case, spare_id, claim):
    with pytest.raises(LeftOverRefused) as error:
        take_left_over(case, spare_id, claim)
    return error.value.obstacle


def test_a_left_over_that_is_not_there_is_offered_by_nobody():
    case = a_case(spares=(a_spare(),), claims=(a_claim(),))

    assert refused(case, 9, a_claim()) is Obstacle.NOBODY_OFFERS


def test_what_stands_in_the_way_is_named_before_that_there_are_too_few():
    case = a_case(spares=(a_spare(),), claims=(a_claim(),), forbids=((1, 7),))

    assert refused(case, 1, a_claim(7, asked=2)) is Obstacle.FORBIDDEN


def test_the_spare_meant_is_weighed_and_not_the_first_of_its_variety():
    """Two hardened plants fit into the cold; the one raised in heat would need the room indoors."""
    heat = a_spare(raised=Raised.IN_HEAT, send_by=CLOSES)
    hardened = a_spare(2, raised=Raised.HARDENED, count=3)
    shelters = (Shelter(2, ShelterKind.INDOORS, 1), Shelter(2, ShelterKind.COLD, 5))
    case = a_case(spares=(heat, hardened), claims=(a_claim(),), shelters=shelters)

    assert take_left_over(case, 2, a_claim(7, asked=2)) == Allocation(2, 7, 2)
    assert refused(case, 1, a_claim(7, asked=2)) is Obstacle.FEWER


def test_a_left_over_of_another_variety_behind_the_first_is_to_be_had():
    spares = (a_spare(variety=2), a_spare(2))
    case = a_case(spares=spares, claims=(a_claim(), a_claim(2, variety=2)))

    assert take_left_over(case, 2, a_claim(7)) == Allocation(2, 7, 1)


def test_little_room_indoors_is_too_little_though_there_is_no_end_of_it_outside():
    heat = a_spare(raised=Raised.IN_HEAT, send_by=CLOSES, count=2)
    shelters = (Shelter(2, ShelterKind.INDOORS, 1), Shelter(2, ShelterKind.OPEN_GROUND))
    case = a_case(spares=(heat,), claims=(a_claim(),), shelters=shelters)

    assert refused(case, 1, a_claim(7, asked=2)) is Obstacle.ROOM
