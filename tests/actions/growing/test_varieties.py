"""What is said of varieties, by whom, and how names are found."""

import pytest

from exchange.actions.growing.page_varieties import varieties_page, variety_page
from exchange.actions.growing.varieties import (
    USUAL_AUTHORITY,
    look_up,
    mark_variety,
    name_variety,
    say_begonia,
)
from exchange.actions.kernel.refusals import RefusedError
from exchange.domain.growing.variety import Keeps, Species
from exchange.records import SPARES, VARIETIES
from tests.app_fixtures import NOW
from tests.builders.offers import a_batch, a_spare, a_variety, marks, protect, row, rows


def test_one_name_is_kept_once(circle):
    assert a_variety(circle, "Tin Kettle") == a_variety(circle, "'TIN  KETTLE'")


def test_one_name_in_two_kinds_is_two_varieties(circle):
    assert a_variety(circle, "Tin Kettle") != a_variety(circle, "Tin Kettle", Species.FUCHSIA)


def test_an_accent_makes_another_variety_that_is_asked_about(circle):
    known = a_variety(circle, "Café")

    found = look_up(circle.actor("Effie"), "Cafe", None)

    assert found.variety is None
    assert [one.id for one in found.near] == [known]
    assert a_variety(circle, "Cafe") != known


@pytest.mark.parametrize("name", ["", "  ", "''", "\u202e", "a" * 61])
def test_a_name_that_cannot_be_kept_is_refused(circle, name):
    with pytest.raises(RefusedError) as refused:
        name_variety(circle.actor("Effie"), name, Species.DAHLIA, NOW)

    assert refused.value.field == "name"


def test_sixty_letters_are_kept(circle):
    assert row(circle, VARIETIES, a_variety(circle, "a" * 60)).name == "a" * 60


def test_only_who_grows_it_or_the_organiser_marks_it(circle):
    variety_id = a_variety(circle)

    with pytest.raises(RefusedError):
        mark_variety(circle.actor("Effie"), variety_id, marks(keeps=Keeps.BADLY), NOW)
    a_batch(circle, "Effie", variety_id)
    mark_variety(circle.actor("Effie"), variety_id, marks(keeps=Keeps.BADLY), NOW)

    assert row(circle, VARIETIES, variety_id).keeps is Keeps.BADLY


def test_who_has_lost_it_is_no_holder(circle):
    variety_id = a_variety(circle)
    a_batch(circle, "Effie", variety_id, plants=0)

    with pytest.raises(RefusedError):
        mark_variety(circle.actor("Effie"), variety_id, marks(keeps=Keeps.BADLY), NOW)


@pytest.mark.parametrize(
    ("said", "field"),
    [
        ({"must_not_be_lost": True, "because": "  "}, "because"),
        ({"target_places": 0}, "target_places"),
        ({"target_places": 101}, "target_places"),
    ],
)
def test_marks_that_cannot_be_are_refused(circle, said, field):
    with pytest.raises(RefusedError) as refused:
        mark_variety(circle.actor("Winnie"), a_variety(circle), marks(**said), NOW)

    assert refused.value.field == field


def test_marking_as_protected_holds_what_is_listed_and_names_an_authority(circle):
    variety_id = a_variety(circle)
    spare_id = a_spare(circle, variety_id=variety_id)

    protect(circle, variety_id)

    assert row(circle, SPARES, spare_id).held
    assert row(circle, VARIETIES, variety_id).authority == USUAL_AUTHORITY


def test_a_holder_cannot_take_the_protected_mark_off(circle):
    variety_id = a_variety(circle)
    a_batch(circle, "Effie", variety_id)
    protect(circle, variety_id)

    with pytest.raises(RefusedError) as refused:
        mark_variety(circle.actor("Effie"), variety_id, marks(), NOW)

    assert refused.value.field == "protected"
    assert row(circle, VARIETIES, variety_id).protected


def test_one_more_place_makes_it_safer(circle):
    variety_id = a_variety(circle)
    a_batch(circle, "Cuthbert", variety_id, plants=1)

    page = variety_page(circle.actor("Effie"), variety_id, NOW)

    assert 0 < page.chance_with_one_more < page.line.chance < 1


def test_the_chance_of_one_fairly_keeping_tuber_in_an_unknown_place_is_37_in_100(circle):
    """q = c + (1 - c)(1 - p) with c = 10 in 100 and p = 70 in 100, by hand: 0.1 + 0.9 * 0.3."""
    variety_id = a_variety(circle)
    a_batch(circle, "Cuthbert", variety_id, plants=1)

    assert variety_page(circle.actor("Effie"), variety_id, NOW).line.chance == pytest.approx(0.37)


def test_a_variety_nobody_tells_of_has_no_chance_shown(circle):
    page = variety_page(circle.actor("Effie"), a_variety(circle), NOW)

    assert page.line.chance is None
    assert page.chance_with_one_more is None


def test_the_list_is_narrowed_by_part_of_a_name_without_accents(circle):
    a_variety(circle, "Café Noir")
    a_variety(circle, "Tin Kettle")

    found = varieties_page(circle.actor("Effie"), "cafe", None, NOW)

    assert [line.variety.name for line in found] == ["Café Noir"]
    assert len(rows(circle, VARIETIES)) == 2


@pytest.mark.parametrize("kind", [Species.TUBEROUS_BEGONIA, Species.FOLIAGE_BEGONIA])
def test_whoever_grows_a_begonia_says_once_which_kind_it_is(circle, kind):
    known = a_variety(circle, "Copper Pan", Species.BEGONIA)
    a_batch(circle, "Effie", known)

    for _press in range(2):
        say_begonia(circle.actor("Effie"), known, kind, NOW)

    assert row(circle, VARIETIES, known).species is kind


def test_only_who_grows_it_or_the_organiser_says_which_kind_a_begonia_is(circle):
    known = a_variety(circle, "Copper Pan", Species.BEGONIA)
    a_batch(circle, "Effie", known)

    with pytest.raises(RefusedError):
        say_begonia(circle.actor("Cuthbert"), known, Species.TUBEROUS_BEGONIA, NOW)

    say_begonia(circle.actor("Winnie"), known, Species.TUBEROUS_BEGONIA, NOW)
    assert row(circle, VARIETIES, known).species is Species.TUBEROUS_BEGONIA


def test_no_other_plant_is_made_a_begonia_and_no_begonia_another_plant(circle):
    dahlia, begonia = a_variety(circle), a_variety(circle, "Copper Pan", Species.BEGONIA)

    for known, kind in (
        (dahlia, Species.TUBEROUS_BEGONIA),
        (begonia, Species.DAHLIA),
        (begonia, None),
    ):
        with pytest.raises(RefusedError):
            say_begonia(circle.actor("Winnie"), known, kind, NOW)
