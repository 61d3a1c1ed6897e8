"""A variety's name, kind and classes are corrected, and an empty one goes off the list and back."""

import pytest

from exchange.actions.growing.correct_variety import (
    ClassRefusedError,
    Corrected,
    NotEmptyVarietyError,
    NotYoursAloneError,
    correct_variety,
    put_variety_back,
    remove_variety,
)
from exchange.actions.growing.merge_varieties import merge
from exchange.actions.growing.page_correct_variety import correct_page
from exchange.actions.growing.page_varieties import varieties_page, variety_page
from exchange.actions.growing.plant_classes import take_usual_classes
from exchange.actions.growing.varieties import VarietyNameRefusedError
from exchange.actions.kernel.edits import EditedMeanwhileError
from exchange.domain.growing.code_advice import CodeRule
from exchange.domain.growing.plant_class import ClassSort
from exchange.domain.growing.variety import Species
from exchange.records import PLANT_CLASSES, SPARES, VARIETIES
from tests.app_fixtures import NOW
from tests.builders.breaking import BrokenError, break_at, dump
from tests.builders.offers import a_batch, a_claim, a_spare, a_variety, row, rows


def corrected(name="Tin Kettle", species=Species.DAHLIA, **more):
    return Corrected(name, species, **more)


def test_a_name_and_a_kind_are_corrected_and_what_stands_under_it_stays(circle):
    known = a_variety(circle, "Tinn Ketle", Species.OTHER)
    spare_id = a_spare(circle, variety_id=known)

    correct_variety(circle.actor("Winnie"), known, corrected(trade_name="Golden Pot"), NOW)

    now = row(circle, VARIETIES, known)
    assert (now.name, now.folded, now.species, now.trade_name) == (
        "Tin Kettle",
        "tin kettle",
        Species.DAHLIA,
        "Golden Pot",
    )
    assert row(circle, SPARES, spare_id).variety_id == known


def test_it_is_found_by_the_new_name_only(circle):
    known = a_variety(circle, "Tinn Ketle")

    correct_variety(circle.actor("Winnie"), known, corrected(), NOW)

    assert a_variety(circle, "Tin Kettle") == known
    assert a_variety(circle, "Tinn Ketle") != known


def test_a_name_that_is_taken_says_how_two_become_one(circle):
    a_variety(circle, "Tin Kettle")

    with pytest.raises(VarietyNameRefusedError, match="make them one") as refused:
        correct_variety(circle.actor("Winnie"), a_variety(circle, "Tinn Kettle"), corrected(), NOW)

    assert refused.value.field == "name"


def test_the_name_of_one_that_was_merged_into_it_says_so(circle):
    kept, merged = a_variety(circle, "Tin Kettle"), a_variety(circle, "Tinn Kettle")
    merge(circle.actor("Winnie"), merged, kept, NOW)

    with pytest.raises(VarietyNameRefusedError, match="undo that first"):
        correct_variety(circle.actor("Winnie"), kept, corrected("Tinn Kettle"), NOW)


@pytest.mark.parametrize("name", ["", "''", "a" * 61])
def test_a_name_that_cannot_be_kept_is_refused(circle, name):
    with pytest.raises(VarietyNameRefusedError):
        correct_variety(circle.actor("Winnie"), a_variety(circle), corrected(name), NOW)


def test_the_second_of_two_corrections_is_shown_both(circle):
    known = a_variety(circle, "Tinn Ketle")
    opened = correct_page(circle.actor("Winnie"), known).version
    correct_variety(circle.actor("Winnie"), known, corrected("Copper Pan"), NOW, opened=opened)

    with pytest.raises(EditedMeanwhileError):
        correct_variety(circle.actor("Winnie"), known, corrected(), NOW, opened=opened)


def test_whoever_alone_has_something_under_a_name_corrects_it(circle):
    known = a_variety(circle, "Tinn Ketle")
    a_batch(circle, "Effie", known)

    correct_variety(circle.actor("Effie"), known, corrected(), NOW)

    assert row(circle, VARIETIES, known).name == "Tin Kettle"


@pytest.mark.parametrize("other", [a_batch, a_spare, a_claim])
def test_where_others_have_something_too_the_organiser_is_named(circle, other):
    known = a_variety(circle, "Tinn Ketle")
    a_batch(circle, "Effie", known)
    other(circle, "Cuthbert", known)

    for act in (
        lambda: correct_variety(circle.actor("Effie"), known, corrected(), NOW),
        lambda: correct_page(circle.actor("Effie"), known),
        lambda: remove_variety(circle.actor("Effie"), known, NOW),
    ):
        with pytest.raises(NotYoursAloneError, match="organiser"):
            act()


def test_a_class_has_to_be_one_of_its_kind(circle):
    take_usual_classes(circle.actor("Winnie"), Species.DAHLIA, NOW)
    group = rows(circle, PLANT_CLASSES, sort=ClassSort.GROUP)[3]
    size = rows(circle, PLANT_CLASSES, sort=ClassSort.SIZE)[0]
    known = a_variety(circle)

    correct_variety(
        circle.actor("Winnie"), known, corrected(group_id=group.id, size_id=size.id), NOW
    )
    said = [one.label for one in variety_page(circle.actor("Effie"), known, NOW).classes]

    assert said == ["Waterlily", "Giant (over 250 mm)"]
    for wrong in ({"group_id": size.id}, {"size_id": group.id}, {"species": Species.FUCHSIA}):
        with pytest.raises(ClassRefusedError):
            correct_variety(
                circle.actor("Winnie"), known, corrected(**{"group_id": group.id, **wrong}), NOW
            )


def test_the_page_tells_what_the_code_says_of_an_old_name(circle):
    known = a_variety(circle, "Kettle Improved")

    assert [one.rule for one in correct_page(circle.actor("Winnie"), known).advice] == [
        CodeRule.BARRED
    ]


def test_an_empty_variety_goes_off_the_list_and_comes_back(circle):
    known = a_variety(circle, "Tinn Ketle")

    remove_variety(circle.actor("Effie"), known, NOW)
    assert varieties_page(circle.actor("Effie"), "", None, NOW) == ()
    put_variety_back(circle.actor("Effie"), known, NOW)

    assert len(varieties_page(circle.actor("Effie"), "", None, NOW)) == 1


def test_typing_the_name_again_brings_a_removed_one_back(circle):
    known = a_variety(circle, "Tin Kettle")
    remove_variety(circle.actor("Winnie"), known, NOW)

    assert a_variety(circle, "Tin Kettle") == known
    assert row(circle, VARIETIES, known).removed_at is None


@pytest.mark.parametrize(
    ("make", "why"), [(a_batch, "living"), (a_spare, "living"), (a_claim, "asks")]
)
def test_what_stands_under_it_keeps_it_on_the_list(circle, make, why):
    known = a_variety(circle)
    make(circle, "Effie", known)

    with pytest.raises(NotEmptyVarietyError, match=why):
        remove_variety(circle.actor("Winnie"), known, NOW)


@pytest.mark.parametrize("step", ["note", "ask"])
def test_a_correction_is_kept_whole_or_not_at_all(circle, step, monkeypatch):
    known = a_variety(circle, "Tinn Ketle")
    before = dump(circle.house.books)
    break_at(monkeypatch, f"exchange.actions.growing.correct_variety.{step}")

    with pytest.raises(BrokenError):
        correct_variety(circle.actor("Winnie"), known, corrected(), NOW)

    assert dump(circle.house.books) == before
