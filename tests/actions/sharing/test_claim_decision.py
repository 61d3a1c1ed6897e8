"""What was decided of a claim: who may see it, when, and what would have been, kept beside it."""

from dataclasses import replace
from datetime import date, timedelta

import pytest

from exchange.actions.kernel.actor import NotAllowedError
from exchange.actions.sharing.claim_decision import Had, decision_of, keep_had, may_see, told_of
from exchange.domain.growing.batch import Material
from exchange.domain.sharing.changes import ChangeKind, Counterfactual
from exchange.domain.sharing.explanation import WhatIf
from exchange.domain.sharing.reason import ClaimOutcome, ClaimReason, Obstacle, Rule
from exchange.records import ANSWERS
from exchange.records.columns import to_plain
from exchange.words.sharing.reasons import reason_sentence

DAY = timedelta(days=1)


@pytest.fixture
def sharing(sharing):
    """Effie and Cuthbert ask for the one plant Winnie offers; it is worked out."""
    variety = sharing.name()
    sharing.offer("Winnie", variety)
    sharing.claims = [sharing.ask(who, variety) for who in ("Effie", "Cuthbert")]
    sharing.open()
    sharing.work_out()
    return sharing


def decided(sharing, claim_id, *, ahead=False):
    with sharing.house.books.reading() as tx:
        return decision_of(tx, sharing.organiser, claim_id, ahead=ahead)


def kept(sharing, decision, had):
    with sharing.house.books.writing() as tx:
        keep_had(tx, sharing.organiser, decision, had)


def had_of(decision):
    what_if = WhatIf(decision.claim_id, decision.reason, True, Rule.ONE_EACH, 2, 1, 1)
    changes = (
        Counterfactual(ChangeKind.MATERIAL, 1, material=Material.CLUMP),
        Counterfactual(ChangeKind.LATER, 2, until=date(2027, 5, 1)),
    )
    return Had(what_if, changes, every=True)


def test_a_claim_is_seen_by_its_household_and_the_organiser_and_nobody_else(sharing):
    with sharing.house.books.reading() as tx:
        for who in ("Effie", "Winnie"):
            may_see(tx, sharing.actor(who), sharing.claims[0])
        with pytest.raises(NotAllowedError):
            may_see(tx, sharing.actor("Cuthbert"), sharing.claims[0])


def test_before_confirming_a_decision_is_there_only_for_who_looks_ahead(sharing):
    for claim_id in sharing.claims:
        ahead = decided(sharing, claim_id, ahead=True)

        assert decided(sharing, claim_id) is None
        assert (ahead.claim_id, ahead.share_out.id) == (claim_id, sharing.share_out_id)
        assert (ahead.answer, ahead.had) == (None, None)
        assert ahead.sentence.endswith(".")


def test_each_claim_has_its_own_decision_and_one_that_was_in_none_has_none(sharing):
    standings = [decided(sharing, one, ahead=True).reason.standing for one in sharing.claims]
    later = sharing.ask("Odo", sharing.name("Tin Kettle"))

    assert set(standings) == {ClaimOutcome.MET, ClaimOutcome.UNMET}
    assert decided(sharing, later, ahead=True) is None


def test_a_confirmed_decision_reads_as_what_was_looked_at(sharing):
    ahead = [decided(sharing, one, ahead=True) for one in sharing.claims]
    sharing.confirm()

    for before in ahead:
        after = decided(sharing, before.claim_id)
        assert (after.reason, after.sentence) == (before.reason, before.sentence)
        assert after.answer.claim_id == before.claim_id
        assert after.had is None
        assert decided(sharing, before.claim_id, ahead=True) == after


def test_the_last_of_two_confirmed_decisions_counts(sharing):
    sharing.confirm()
    first = sharing.share_out_id
    lost = next(one for one in sharing.claims if decided(sharing, one).reason.given == 0)
    sharing.offer("Odo", sharing.claim_row(lost).variety_id)
    sharing.all_of_it()

    last = decided(sharing, lost)

    assert last.share_out.id == sharing.share_out_id != first
    assert last.reason.standing is ClaimOutcome.MET


def test_what_would_have_been_is_kept_beside_what_is_looked_at(sharing):
    first, second = (decided(sharing, one, ahead=True) for one in sharing.claims)

    kept(sharing, first, had_of(first))
    kept(sharing, second, had_of(second))

    for one in (first, second):
        assert decided(sharing, one.claim_id, ahead=True) == replace(
            one, had=had_of(one), share_out=sharing.row()
        )


def test_it_is_not_kept_beside_what_was_worked_out_anew_meanwhile(sharing):
    before = decided(sharing, sharing.claims[0], ahead=True)
    older = replace(before.share_out, worked_at=before.share_out.worked_at - DAY)

    kept(sharing, replace(before, share_out=older), had_of(before))

    assert decided(sharing, sharing.claims[0], ahead=True).had is None


def test_what_would_have_been_is_kept_beside_a_confirmed_decision(sharing):
    sharing.confirm()
    first, second = (decided(sharing, one) for one in sharing.claims)

    kept(sharing, first, had_of(first))

    after = decided(sharing, first.claim_id)
    assert (after.had, after.reason, after.sentence) == (
        had_of(first),
        first.reason,
        first.sentence,
    )
    assert decided(sharing, second.claim_id).had is None
    assert "what_if" not in sharing.row().proposal


def test_what_was_kept_before_all_was_tried_does_not_say_that_all_was(sharing):
    sharing.confirm()
    decision = decided(sharing, sharing.claims[0])
    kept(sharing, decision, had_of(decision))
    circle_id = sharing.organiser.circle_id
    with sharing.house.books.writing() as tx:
        answer = ANSWERS.get(tx, circle_id, decision.answer.id)
        before = {name: one for name, one in answer.reason["had"].items() if name != "every"}
        ANSWERS.change(tx, circle_id, answer.id, reason={**answer.reason, "had": before})

    had = decided(sharing, sharing.claims[0]).had

    assert had == replace(had_of(decision), every=False)


def test_the_organiser_reads_a_kept_sentence_with_the_name_and_nothing_where_none_was_kept():
    reason = ClaimReason(ClaimOutcome.UNMET, 1, 0, Obstacle.OWN_ONLY)
    kept, sentence = {**to_plain(reason), "sentence": "kept beside it"}, reason_sentence(reason)

    assert told_of(kept, sentence, "Effie") == (
        "The only plants offered are Effie’s own household’s."
    )
    assert told_of({}, "", "Effie") == ""
