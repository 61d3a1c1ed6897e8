"""Every claim is explained without naming anybody; what would have been is worked out once and kept."""

from datetime import timedelta
from types import SimpleNamespace

import pytest

from exchange.actions.circle.terms import set_term
from exchange.actions.kernel.actor import NotAllowedError
from exchange.actions.kernel.tasks import run_one
from exchange.actions.kernel.terms_table import term
from exchange.actions.sharing import explanation as explaining
from exchange.actions.sharing.explanation import NotDecidedError, ask_why
from exchange.actions.sharing.page_claim_answer import claim_why_page
from exchange.actions.sharing.page_draw import draw_page
from exchange.actions.sharing.scenarios import ask_for_other_terms, other_terms, try_other_terms
from exchange.actions.sharing.share_out import NewShareOut, open_share_out
from exchange.actions.sharing.share_out_proposal import proposal_of, share_out_of
from exchange.domain.growing.batch import Material
from exchange.domain.sharing.case import SharingTerms
from exchange.domain.sharing.draw import order_of_ties, shown_at_opening
from exchange.domain.sharing.reason import Rule
from exchange.domain.sharing.share_out import work_out
from exchange.jobs.kinds import KINDS
from exchange.words.sharing import explanation as words
from tests.app_fixtures import NOW
from tests.builders.circles import a_case, a_claim, a_spare


@pytest.fixture
def decided(sharing):
    """One plant, two who want it, and somebody who cannot take it as it is sent."""
    variety, other = sharing.name(), sharing.name("Tin Whistle")
    sharing.offer("Winnie", variety)
    sharing.offer("Winnie", other, material=Material.POT_TUBER)
    sharing.claims = {
        "met": sharing.ask("Cuthbert", variety, choice=1),
        "lost": sharing.ask("Effie", variety, choice=3),
        "material": sharing.ask("Effie", other, materials=frozenset({Material.ROOTED})),
    }
    sharing.open()
    sharing.work_out()
    return sharing


def explain(sharing, who, claim):
    """Let somebody ask, the worker work it out, and give what is kept."""
    ask_why(sharing.actor(who), sharing.claims[claim], NOW)
    while run_one(sharing.house, KINDS, lambda: NOW):
        pass
    return why(sharing, who, claim).had


def why(sharing, who, claim):
    return claim_why_page(sharing.actor(who), sharing.claims[claim], NOW)


def test_a_member_reads_one_sentence_and_no_name(decided):
    decided.confirm()
    page = why(decided, "Effie", "lost")
    assert page.sentence == (
        "1\xa0plant was offered and 1\xa0other household asked; it went to a member who had put it"
        " higher among their wishes."
    )
    told = f"{page.sentence} {page.figures}"
    assert not any(name in told for name in ("Winnie", "Cuthbert", "Effie", "Pellow"))
    assert page.lacks == 1


def test_before_confirming_only_the_organiser_sees_it(decided):
    assert why(decided, "Effie", "lost").sentence == ""
    page = why(decided, "Winnie", "lost")
    assert page.looked_at
    assert page.sentence
    with pytest.raises(NotDecidedError):
        explain(decided, "Effie", "lost")


def test_another_member_never_sees_it(decided):
    decided.confirm()
    for act in (
        lambda: why(decided, "Cuthbert", "lost"),
        lambda: ask_why(decided.actor("Cuthbert"), decided.claims["lost"], NOW),
    ):
        with pytest.raises(NotAllowedError):
            act()


def test_had_you_had_it_somebody_who_had_none_would_have_gone_without(decided):
    decided.confirm()
    had = explain(decided, "Effie", "lost")
    assert (had.what_if.possible, had.what_if.with_none) == (True, 1)
    assert had.what_if.rule is Rule.WISHES
    assert words.had_sentence(had.what_if) == (
        "Had you had it, another household would have been given nothing at all and wishes would have"
        " been met less well."
    )


def test_what_would_change_it_is_worked_out_in_full(decided):
    decided.confirm()
    had = explain(decided, "Effie", "material")
    assert words.change_sentences(had.changes, {}, every=had.every) == [
        "Taking pot tubers too would have brought 1\xa0plant more."
    ]
    assert not had.what_if.possible


@pytest.mark.parametrize("confirmed", [False, True])
def test_it_is_worked_out_once_and_kept(decided, confirmed, monkeypatch):
    who = "Effie" if confirmed else "Winnie"
    if confirmed:
        decided.confirm()
    first = explain(decided, who, "lost")

    def again(*_given):
        raise AssertionError("worked out a second time")

    monkeypatch.setattr(explaining, "what_if", again)
    assert explain(decided, who, "lost") == first
    assert why(decided, who, "lost").had == first


def test_the_explanation_changes_nothing(decided):
    decided.confirm()
    before = decided.given(), decided.row().working
    explain(decided, "Effie", "lost")
    assert (decided.given(), decided.row().working) == before


def test_confirming_after_a_look_at_the_explanation_still_works(decided):
    explain(decided, "Winnie", "lost")
    decided.confirm()
    assert decided.standing() == {decided.claims["met"]: 1}


def test_other_terms_are_tried_as_a_task_and_say_how_many_claims_change(sharing):
    """Effie gives something herself; if that came first, the plant would be hers."""
    variety = sharing.name()
    sharing.offer("Winnie", variety)
    sharing.offer("Effie", sharing.name("Brass Pin"))
    cuthbert = sharing.ask("Cuthbert", variety, choice=1)
    effie = sharing.ask("Effie", variety, choice=3)
    sharing.open()
    sharing.work_out()
    assert [one["claim_id"] for one in sharing.row().proposal["allocations"]] == [cuthbert]
    ask_for_other_terms(sharing.organiser, sharing.share_out_id, NOW)
    assert run_one(sharing.house, KINDS, lambda: NOW)
    with sharing.house.books.reading() as tx:
        found = other_terms(tx, sharing.organiser, sharing.share_out_id)
    (givers_first,) = [one for one in found if one.key == "first_refusal"]
    assert (givers_first.changed, givers_first.less) == (2, 1)
    set_term(sharing.organiser, term("first_refusal"), True, NOW)
    sharing.work_out()
    sharing.confirm()
    assert sharing.standing() == {effie: 1}


def test_what_was_tried_on_another_working_out_is_not_shown(decided):
    stages = []
    result = try_other_terms(
        decided.organiser, decided.share_out_id, lambda _stage, share: stages.append(share), NOW
    )
    assert stages == sorted(stages)
    assert len(result["lines"]) == len(stages)
    ask_for_other_terms(decided.organiser, decided.share_out_id, NOW)
    run_one(decided.house, KINDS, lambda: NOW)
    decided.ask("Odo", decided.name("Brass Pin"))
    decided.work_out()
    with decided.house.books.reading() as tx:
        assert other_terms(tx, decided.organiser, decided.share_out_id) == ()


def test_every_member_sees_the_hash_at_opening_and_the_number_at_closing(sharing):
    closes = NOW.date() + timedelta(days=3)
    open_share_out(sharing.organiser, NewShareOut("Spring", closes, "4711"), NOW)
    page = draw_page(sharing.actor("Effie"), NOW)
    assert page.share_out.draw_hash == shown_at_opening("4711")
    assert page.number == ""
    assert draw_page(sharing.actor("Effie"), NOW + timedelta(days=3)).number == "4711"


def test_the_order_of_ties_is_shown_by_number_and_can_be_worked_out_again(decided):
    decided.confirm()
    (line,) = draw_page(decided.actor("Effie"), NOW).ties
    rivals = (decided.claims["met"], decided.claims["lost"])
    assert line.order == order_of_ties("4711", rivals)
    assert line.mine == {decided.claims["lost"]}


def test_a_member_sees_ones_own_given_and_received_only_in_larger_circles(decided):
    decided.confirm()
    assert draw_page(decided.actor("Cuthbert"), NOW).own_balance == (0, 1)
    decided.about(15)
    assert draw_page(decided.actor("Cuthbert"), NOW).own_balance is None


def test_both_passes_are_kept_and_read_back_and_one_from_before_there_were_two_is_the_first():
    claims = (a_claim(asked=3), a_claim(2, household=3))
    case = a_case(spares=(a_spare(count=3),), claims=claims, terms=SharingTerms(most_contested=1))
    found = work_out(case)

    kept = proposal_of(found, case, ())

    assert [one["pass"] for one in kept["rules"]] == [1] * 6 + [2] * 6
    assert share_out_of(SimpleNamespace(proposal=kept, working=found.working)) == found
    for one in kept["rules"]:
        del one["pass"]
    before = share_out_of(SimpleNamespace(proposal=kept, working=found.working))
    assert not any(one.beyond for one in before.rules)
