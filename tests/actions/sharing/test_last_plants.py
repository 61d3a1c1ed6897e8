"""Before a last plant is listed somebody is asked; only its holder, or who acts for them, says that it may go."""

from dataclasses import replace

import pytest

from exchange.actions.growing.batches import NewBatch, grow_too
from exchange.actions.sharing.last_plants import LastPlantError, OnlyHolderError
from exchange.actions.sharing.spare_lines import LineDecision, LineRefusedError, Window, list_box
from exchange.actions.sharing.spares import NewSpare, change_spare, list_spare
from exchange.domain.growing.batch import Material, Raised
from exchange.domain.growing.variety import Species
from exchange.records import DEEDS, SPARES
from tests.app_fixtures import NOW
from tests.builders.breaking import BrokenError, break_at, dump
from tests.builders.offers import rows
from tests.builders.season import a_spare

DAYS = Window(NOW.date(), NOW.date().replace(month=5))


@pytest.fixture
def grown(sharing):
    """Effie grows three, Winnie one more."""
    sharing.variety = sharing.name()
    grow_too(sharing.actor("Effie"), NewBatch(sharing.variety, 3), NOW)
    grow_too(sharing.actor("Winnie"), NewBatch(sharing.variety, 1), NOW)
    return sharing


def offer(sharing, who="Effie", count=3, *, may_go=False, **more):
    new = a_spare(sharing.variety, count, NOW, may_go=may_go, **more)
    return list_spare(sharing.actor(who), new, NOW)


def said(sharing):
    return [
        (one.what, one.for_member_id)
        for one in rows(sharing, DEEDS)
        if one.act == "let a last plant go"
    ]


def test_who_would_keep_none_is_asked_and_nothing_is_listed(grown):
    before = dump(grown.house.books)

    with pytest.raises(LastPlantError, match="leaves its holder none of Chapel Lantern") as asked:
        offer(grown)

    assert asked.value.field == "may_go"
    assert dump(grown.house.books) == before


def test_who_keeps_one_is_not_asked(grown):
    offer(grown, count=2)

    with pytest.raises(LastPlantError):
        offer(grown, count=1)
    assert said(grown) == []


def test_cuttings_are_taken_without_a_question(grown):
    assert offer(grown, count=9, material=Material.UNROOTED)


def test_the_circles_only_plant_is_asked_about_by_that_name(sharing):
    sharing.variety = sharing.name()

    with pytest.raises(LastPlantError, match="the circle’s only plant"):
        offer(sharing, count=1)


def test_what_nobody_said_is_no(grown):
    kept, last = (
        NewSpare(grown.variety, Material.ROOTED, Raised.COOL, count, DAYS.ready_from, DAYS.send_by)
        for count in (2, 1)
    )
    spare_id = list_spare(grown.actor("Effie"), kept, NOW)

    assert not next(one for one in rows(grown, SPARES) if one.id == spare_id).roots_seen
    with pytest.raises(LastPlantError):
        list_spare(grown.actor("Effie"), last, NOW)


def test_its_holder_says_that_it_may_go_and_it_is_written_down(grown):
    offer(grown, may_go=True)

    assert said(grown) == [("Chapel Lantern: said so", None)]


def test_the_organiser_acting_for_them_says_so_and_it_is_written_down_as_theirs(grown):
    """Odo has no account; what stands is that they said so, and for whom."""
    grow_too(grown.actor("Odo"), NewBatch(grown.variety, 2), NOW)

    offer(grown, "Odo", 2, may_go=True)

    assert said(grown) == [("Chapel Lantern: they said so", grown.ring["Odo"].id)]


def test_an_organiser_who_does_not_act_for_them_cannot_say_so(grown):
    spare = offer(grown, count=2)
    more = a_spare(grown.variety, 3, NOW, may_go=True)

    with pytest.raises(OnlyHolderError):
        change_spare(grown.organiser, spare, more, NOW)
    with pytest.raises(LastPlantError):
        change_spare(grown.actor("Effie"), spare, replace(more, may_go=False), NOW)

    change_spare(grown.actor("Effie"), spare, more, NOW)
    assert said(grown) == [("Chapel Lantern: said so", None)]


def test_what_was_settled_is_not_asked_again_when_something_else_changes(grown):
    spare = offer(grown, may_go=True)

    later = a_spare(grown.variety, 3, NOW, may_go=False, note="in a box")
    change_spare(grown.actor("Effie"), spare, later, NOW)

    assert len(said(grown)) == 1


@pytest.mark.parametrize("may_go", [False, True])
def test_in_the_box_the_line_is_named(grown, may_go):
    decision = LineDecision(
        3,
        Material.ROOTED,
        Raised.COOL,
        grown.variety,
        Species.DAHLIA,
        "Chapel Lantern",
        may_go=may_go,
    )
    lines = ("3 rooted Chapel Lantern", [decision])

    if may_go:
        assert len(list_box(grown.actor("Effie"), *lines, DAYS, NOW).spares) == 1
        return
    with pytest.raises(LineRefusedError) as refused:
        list_box(grown.actor("Effie"), *lines, DAYS, NOW)
    assert (refused.value.field, refused.value.number) == ("may_go", 1)


def test_it_is_said_with_the_spare_or_not_at_all(grown, monkeypatch):
    before = dump(grown.house.books)
    break_at(monkeypatch, "exchange.actions.sharing.last_plants.note")

    with pytest.raises(BrokenError):
        offer(grown, may_go=True)
    assert dump(grown.house.books) == before
