"""Groups and sizes are rows the circle changes as its societies do."""

import pytest

from exchange.actions.growing.correct_variety import Corrected, correct_variety
from exchange.actions.growing.plant_classes import (
    NewClass,
    PlantClassRefusedError,
    add_class,
    change_class,
    classes_page,
    remove_class,
    take_usual_classes,
)
from exchange.actions.kernel.actor import NotAllowedError
from exchange.actions.kernel.edits import EditedMeanwhileError
from exchange.domain.growing.plant_class import ClassSort
from exchange.domain.growing.variety import Species
from exchange.records import PLANT_CLASSES
from tests.app_fixtures import NOW
from tests.builders.offers import a_variety, row, rows

STELLAR = NewClass(Species.DAHLIA, ClassSort.GROUP, "Stellar")


def test_the_usual_ones_are_taken_once(circle):
    winnie = circle.actor("Winnie")

    assert take_usual_classes(winnie, Species.DAHLIA, NOW) == 19
    assert take_usual_classes(winnie, Species.DAHLIA, NOW) == 0


def test_one_more_stands_after_the_others(circle):
    take_usual_classes(circle.actor("Winnie"), Species.DAHLIA, NOW)

    class_id = add_class(circle.actor("Winnie"), STELLAR, NOW)

    assert row(circle, PLANT_CLASSES, class_id).position == 15


def test_a_row_is_renamed_for_every_variety_in_it(circle):
    class_id = add_class(circle.actor("Winnie"), STELLAR, NOW)
    known = a_variety(circle)
    correct_variety(
        circle.actor("Winnie"),
        known,
        Corrected("Tin Kettle", Species.DAHLIA, group_id=class_id),
        NOW,
    )

    change_class(circle.actor("Winnie"), class_id, "Star", "ours", NOW, opened=None)

    assert row(circle, PLANT_CLASSES, class_id).label == "Star"
    assert classes_page(circle.actor("Effie")).used == {class_id: 1}
    with pytest.raises(PlantClassRefusedError, match="still classed as Star"):
        remove_class(circle.actor("Winnie"), class_id, NOW)


def test_one_nobody_uses_is_removed(circle):
    class_id = add_class(circle.actor("Winnie"), STELLAR, NOW)

    remove_class(circle.actor("Winnie"), class_id, NOW)

    assert rows(circle, PLANT_CLASSES) == ()


def test_a_name_stands_once_and_is_not_empty(circle):
    winnie = circle.actor("Winnie")
    add_class(winnie, STELLAR, NOW)
    other = add_class(winnie, NewClass(Species.DAHLIA, ClassSort.GROUP, "Ball"), NOW)

    for wrong in (STELLAR, NewClass(Species.DAHLIA, ClassSort.SIZE, "  ")):
        with pytest.raises(PlantClassRefusedError):
            add_class(winnie, wrong, NOW)
    with pytest.raises(PlantClassRefusedError):
        change_class(winnie, other, "Stellar", "", NOW, opened=None)


def test_the_second_of_two_changes_is_refused(circle):
    winnie = circle.actor("Winnie")
    class_id = add_class(winnie, STELLAR, NOW)
    page = classes_page(winnie)
    opened = page.version(page.classes[0])
    change_class(winnie, class_id, "Star", "", NOW, opened=opened)

    with pytest.raises(EditedMeanwhileError):
        change_class(winnie, class_id, "Sterne", "", NOW, opened=opened)


def test_only_who_looks_after_names_changes_them(circle):
    with pytest.raises(NotAllowedError):
        add_class(circle.actor("Effie"), STELLAR, NOW)
