"""The organiser chooses with a reason; the rest is worked out again around it."""

import pytest

from exchange.actions.kernel.actor import NotAllowedError
from exchange.actions.sharing.claims import withdraw_claim
from exchange.actions.sharing.page_share_outs import share_out_page
from exchange.actions.sharing.share_out import (
    CannotBeWorkedOutError,
    ChangedSinceError,
)
from exchange.actions.sharing.share_out_choices import (
    ChoiceRefusedError,
    NewChoice,
    choose,
    take_choice_back,
)
from exchange.actions.sharing.share_out_proposal import choices_of
from exchange.actions.sharing.share_out_state import AlreadyConfirmedError
from tests.app_fixtures import NOW


@pytest.fixture
def contested(sharing):
    """One plant, two who want it; the wish put higher wins."""
    variety = sharing.name()
    spare = sharing.offer("Winnie", variety)
    first = sharing.ask("Cuthbert", variety, choice=1)
    second = sharing.ask("Effie", variety, choice=3)
    sharing.open()
    sharing.work_out()
    return sharing, spare, first, second


def proposed(sharing):
    return {one["claim_id"]: one["count"] for one in sharing.row().proposal["allocations"]}


def test_a_pin_goes_before_the_rules_and_the_rest_is_worked_out_round_it(contested):
    sharing, spare, first, second = contested
    assert proposed(sharing) == {first: 1}
    choose(
        sharing.organiser, sharing.share_out_id, NewChoice(spare, second, 1, "her last died"), NOW
    )
    sharing.work_out()
    assert proposed(sharing) == {second: 1}
    sharing.confirm()
    assert sharing.standing() == {second: 1}
    assert choices_of(sharing.row())[0].reason == "her last died"


def test_two_kept_apart_do_not_meet(contested):
    sharing, spare, first, second = contested
    choose(
        sharing.organiser, sharing.share_out_id, NewChoice(spare, first, None, "ill plants"), NOW
    )
    sharing.work_out()
    assert proposed(sharing) == {second: 1}
    page = share_out_page(sharing.organiser, sharing.share_out_id, NOW)
    told = {line.claim.id: line.sentence for line in page.answers}
    assert told[first] == "The organiser keeps these two apart, and has said why."
    assert page.choices[0].reason == "ill plants"


def test_a_choice_has_to_be_worked_out_before_it_can_be_confirmed(contested):
    sharing, spare, _first, second = contested
    choose(sharing.organiser, sharing.share_out_id, NewChoice(spare, second, 1, "so agreed"), NOW)
    assert share_out_page(sharing.organiser, sharing.share_out_id, NOW).stale
    with pytest.raises(ChangedSinceError):
        sharing.confirm()


def test_a_choice_taken_back_leaves_the_rules_alone(contested):
    sharing, spare, first, second = contested
    choose(sharing.organiser, sharing.share_out_id, NewChoice(spare, second, 1, "so agreed"), NOW)
    take_choice_back(sharing.organiser, sharing.share_out_id, (spare, second), NOW)
    sharing.work_out()
    assert proposed(sharing) == {first: 1}


@pytest.mark.parametrize("count", [0, -1, 10**9, 2])
def test_numbers_that_cannot_be_are_refused_with_a_sentence(contested, count):
    sharing, spare, _first, second = contested
    with pytest.raises(ChoiceRefusedError, match=r"\w.*\."):
        choose(sharing.organiser, sharing.share_out_id, NewChoice(spare, second, count, "why"), NOW)
    assert not choices_of(sharing.row())


@pytest.mark.parametrize("reason", ["", "   ", "x" * 201])
def test_a_choice_needs_a_reason(contested, reason):
    sharing, spare, _first, second = contested
    with pytest.raises(ChoiceRefusedError, match="reason"):
        choose(sharing.organiser, sharing.share_out_id, NewChoice(spare, second, 1, reason), NOW)


def test_nothing_is_given_instead_without_the_receivers_yes(contested):
    sharing, _spare, first, _second = contested
    other = sharing.offer("Winnie", sharing.name("Tin Whistle"))
    with pytest.raises(ChoiceRefusedError, match="receiver’s yes"):
        choose(sharing.organiser, sharing.share_out_id, NewChoice(other, first, 1, "instead"), NOW)


def test_an_alternative_the_claim_allows_can_be_chosen_and_is_said(sharing):
    wanted, other = sharing.name(), sharing.name("Tin Whistle")
    spare = sharing.offer("Winnie", other)
    claim = sharing.ask("Effie", wanted, alternatives=(other,))
    sharing.open()
    sharing.work_out()
    choose(sharing.organiser, sharing.share_out_id, NewChoice(spare, claim, 1, "she said so"), NOW)
    sharing.work_out()
    line = share_out_page(sharing.organiser, sharing.share_out_id, NOW).giving[0]
    assert (line.variety.name, line.asked_for.name) == ("Tin Whistle", "Chapel Lantern")


def test_a_choice_whose_claim_has_gone_is_said_and_can_be_taken_back(contested):
    sharing, spare, first, second = contested
    choose(sharing.organiser, sharing.share_out_id, NewChoice(spare, second, 1, "so agreed"), NOW)
    withdraw_claim(sharing.actor("Effie"), second, NOW)
    with pytest.raises(CannotBeWorkedOutError, match="Take it back"):
        sharing.work_out()
    take_choice_back(sharing.organiser, sharing.share_out_id, (spare, second), NOW)
    sharing.work_out()
    assert proposed(sharing) == {first: 1}


def test_nothing_can_be_chosen_once_it_is_confirmed(contested):
    sharing, spare, _first, second = contested
    sharing.confirm()
    with pytest.raises(AlreadyConfirmedError):
        choose(sharing.organiser, sharing.share_out_id, NewChoice(spare, second, 1, "late"), NOW)


def test_only_the_organiser_chooses(contested):
    sharing, spare, _first, second = contested
    with pytest.raises(NotAllowedError):
        choose(sharing.actor("Effie"), sharing.share_out_id, NewChoice(spare, second, 1, "me"), NOW)
