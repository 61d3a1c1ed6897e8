"""Acts of sharing broken in the middle leave everything as it was."""

from dataclasses import replace
from datetime import timedelta

import pytest

from exchange.actions.growing.variety_meant import NameInDoubtError, TypedName
from exchange.actions.sharing.allocation_answers import decline, refuse
from exchange.actions.sharing.claims import NewClaim, claim
from exchange.actions.sharing.left_overs import take_left_over
from exchange.actions.sharing.long_wait import give_to_reserve
from exchange.actions.sharing.reserve import give_from_reserve
from exchange.actions.sharing.sender_answer import SenderAnswer, answer_as_sender, to_answer
from exchange.actions.sharing.share_out_choices import NewChoice, choose
from exchange.actions.sharing.spares import SpareCountRefusedError, change_spare, list_spare
from exchange.domain.growing.variety import Species
from exchange.domain.optimise.programme import never_stop
from exchange.records import PARCELS, SPARES
from tests.app_fixtures import NOW, a_house
from tests.builders.breaking import BrokenError, break_at, dump
from tests.builders.offers import a_claim, a_spare, a_variety, new_spare, rows
from tests.builders.season import a_season, tell_weather
from tests.builders.tasks import waiting

SHARING = "exchange.actions.sharing"
LATER = NOW + timedelta(hours=1)


@pytest.fixture
def two_each(tmp_path):
    """Winnie is to send two plants each to Cuthbert and to Effie."""
    with a_house(tmp_path) as house:
        made = a_season(house, asked=2, count=4)
        tell_weather(made, NOW)
        made.plan(NOW)
        yield made


def unchanged(monkeypatch, books, step, act):
    """Break a step of an act, and see that it leaves no trace."""
    before = dump(books)
    break_at(monkeypatch, f"{SHARING}.{step}")
    with pytest.raises(BrokenError):
        act()
    assert dump(books) == before


@pytest.mark.parametrize(
    "step",
    [
        "sender_answer.gather",
        "sender_answer.ask",
        "sender_answer.give_back",
        "sender_answer.note",
        "sender_answer.record_yes",
        "sender_answer.record_no",
        "allocation_answers.ask_reserve",
    ],
)
def test_a_senders_answer_is_kept_whole_or_not_at_all(two_each, monkeypatch, step):
    """Fewer of the first, later; none of the second."""
    winnie = two_each.ring.actor("Winnie")
    one, other = to_answer(winnie)
    said = [
        SenderAnswer(one.allocation_id, one.count - 1, NOW.date() + timedelta(days=2)),
        SenderAnswer(other.allocation_id, 0),
    ]

    unchanged(
        monkeypatch, two_each.house.books, step, lambda: answer_as_sender(winnie, said, LATER)
    )


@pytest.mark.parametrize("act", [refuse, decline])
@pytest.mark.parametrize("step", ["note", "give_back", "ask_reserve"])
def test_a_no_is_kept_whole_or_not_at_all(season, monkeypatch, act, step):
    (one, *_others) = to_answer(season.ring.actor("Winnie"))
    name = f"allocation_answers.{step}"
    unchanged(
        monkeypatch,
        season.house.books,
        name,
        lambda: act(season.organiser, one.allocation_id, LATER),
    )


@pytest.mark.parametrize("step", ["note", "gather", "ask_reserve"])
def test_a_parcel_goes_to_the_reserve_whole_or_not_at_all(season, monkeypatch, step):
    parcel = season.parcel_to("Effie")
    with season.house.books.writing() as tx:
        PARCELS.change(tx, season.circle_id, parcel.id, held=True, state="planned")
    unchanged(
        monkeypatch,
        season.house.books,
        f"long_wait.{step}",
        lambda: give_to_reserve(season.organiser, parcel.id, LATER),
    )


@pytest.mark.parametrize("step", ["reserve.tell_later", "reserve.ask", "share_out_letters.write"])
def test_the_reserve_gives_and_tells_or_does_neither(sharing, monkeypatch, step):
    variety = sharing.name()
    sharing.offer("Winnie", variety)
    sharing.ask("Cuthbert", variety, choice=1)
    sharing.ask("Effie", variety, choice=3)
    sharing.all_of_it()
    decline(sharing.actor("Cuthbert"), sharing.given()[0].id, LATER)
    assert waiting(sharing.organiser, "reserve") == [variety]
    unchanged(
        monkeypatch,
        sharing.house.books,
        step,
        lambda: give_from_reserve(sharing.organiser, variety, never_stop, LATER),
    )


def a_new_name(circle, **more):
    name = TypedName("Wholly Unheard", Species.DAHLIA)
    return replace(new_spare(0), variety=name, **more)


@pytest.mark.parametrize(
    "step", ["spares.batch_of", "spare_batch.add_batch", "spares.note", "spares.set_aside"]
)
def test_a_spare_of_a_new_name_is_kept_with_its_name_or_neither(circle, monkeypatch, step):
    new = a_new_name(circle, set_aside_for=circle["Effie"].household_id)
    unchanged(
        monkeypatch,
        circle.house.books,
        step,
        lambda: list_spare(circle.actor("Cuthbert"), new, NOW),
    )


def test_a_refused_spare_leaves_no_new_name_behind(circle):
    cuthbert = circle.actor("Cuthbert")
    spare_id = a_spare(circle)
    before = dump(circle.house.books)
    with pytest.raises(SpareCountRefusedError):
        list_spare(cuthbert, a_new_name(circle, count=0), NOW)
    with pytest.raises(SpareCountRefusedError):
        change_spare(cuthbert, spare_id, a_new_name(circle, count=0), NOW)
    assert dump(circle.house.books) == before


def test_a_name_in_doubt_is_asked_about_and_nothing_is_kept(circle):
    variety_id = a_variety(circle, "Wholly Unheart")
    before = dump(circle.house.books)
    cuthbert, new = circle.actor("Cuthbert"), a_new_name(circle)
    with pytest.raises(NameInDoubtError) as asked:
        list_spare(cuthbert, new, NOW)
    assert asked.value.field == "meant"
    assert dump(circle.house.books) == before

    chosen = replace(new, variety=replace(new.variety, chosen=variety_id))
    as_new = replace(new, variety=replace(new.variety, new=True))
    ids = {list_spare(cuthbert, one, NOW) for one in (chosen, as_new)}
    listed = {one.id: one.variety_id for one in rows(circle, SPARES, id=ids)}
    assert len(set(listed.values())) == 2
    assert variety_id in listed.values()


@pytest.mark.parametrize("step", ["note", "set_aside"])
def test_a_change_of_a_spare_is_kept_whole_or_not_at_all(circle, monkeypatch, step):
    spare_id = a_spare(circle, set_aside_for=circle["Winnie"].household_id)
    new = a_new_name(circle, set_aside_for=circle["Effie"].household_id)
    unchanged(
        monkeypatch,
        circle.house.books,
        f"spares.{step}",
        lambda: change_spare(circle.actor("Cuthbert"), spare_id, new, NOW),
    )


@pytest.mark.parametrize("asked", [1, 3])
def test_a_claim_is_kept_with_its_deed_or_not_at_all(circle, monkeypatch, asked):
    variety_id = a_variety(circle)
    if asked > 1:
        a_claim(circle, variety_id=variety_id)
    unchanged(
        monkeypatch,
        circle.house.books,
        "claims.note",
        lambda: claim(circle.actor("Effie"), NewClaim(variety_id, asked), NOW),
    )


@pytest.mark.parametrize(
    "step",
    ["share_out.give", "share_out.note", "share_out.tell_results", "share_out.ask",
     "share_out_letters.write", "share_out_letters.make_link"],
)  # fmt: skip
def test_a_share_out_is_confirmed_with_its_letters_or_not_at_all(sharing, monkeypatch, step):
    variety = sharing.name()
    sharing.offer("Winnie", variety)
    sharing.ask("Cuthbert", variety)
    sharing.open()
    sharing.work_out()
    unchanged(monkeypatch, sharing.house.books, step, sharing.confirm)


@pytest.mark.parametrize("step", ["give", "tell_later", "note", "ask"])
def test_a_left_over_is_taken_with_its_letters_or_not_at_all(sharing, monkeypatch, step):
    spare = sharing.offer("Winnie", sharing.name())
    sharing.all_of_it()
    unchanged(
        monkeypatch,
        sharing.house.books,
        f"left_overs.{step}",
        lambda: take_left_over(sharing.actor("Effie"), spare, LATER),
    )


@pytest.mark.parametrize("step", ["note", "ask"])
def test_a_choice_is_kept_with_its_task_or_not_at_all(sharing, monkeypatch, step):
    variety = sharing.name()
    spare = sharing.offer("Winnie", variety)
    wish = sharing.ask("Cuthbert", variety)
    sharing.open()
    new = NewChoice(spare, wish, 1, "so agreed")
    unchanged(
        monkeypatch,
        sharing.house.books,
        f"share_out_choices.{step}",
        lambda: choose(sharing.organiser, sharing.share_out_id, new, NOW),
    )
