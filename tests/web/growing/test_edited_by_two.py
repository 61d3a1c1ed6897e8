"""A place, a shelter, a count, the marks of a variety, edited by two at once: both are shown."""

import pytest

from exchange.domain.growing.shelter import ShelterKind
from exchange.records import BATCHES, PLACES, SHELTERS, VARIETIES
from tests.app_fixtures import Visitor
from tests.builders.edits import edited_by_two, version_in
from tests.builders.offers import a_batch, a_variety, row, rows


@pytest.fixture
def two(here, circle):
    """The same account on two telephones."""
    return Visitor(here, circle["Effie"]), Visitor(here, circle["Effie"])


@pytest.fixture
def place(circle):
    return circle.place("Effie")


def told(place, **more):
    usual = {"name": place.name, "town": place.town, "lie": "open", "home_by": "18"}
    pin = {"latitude": f"{place.latitude:.3f}", "longitude": f"{place.longitude:.3f}"}
    return {**usual, **pin, **more}


def pressed_again(two, page, answer, data):
    return two[0].post(page, {**data, "version": version_in(answer)})


def test_of_a_place_both_are_shown_and_the_second_is_kept_when_pressed_again(circle, two, place):
    page, mine = f"/garden/places/{place.id}", told(place, height_m="95", lie="hollow")
    second = edited_by_two(two, page, told(place, height_m="120.5", letter_box="y"), mine)

    assert second.status_code == 422
    assert "changed by somebody else" in second.text
    assert "is now: “120.5”." in second.text
    assert "is now: ticked." in second.text
    assert 'value="95"' in second.text
    assert "“Inverness”" not in second.text, "what is the same in both is not told"
    assert row(circle, PLACES, place.id).height_m == 120.5

    assert pressed_again(two, page, second, mine).status_code == 303
    assert row(circle, PLACES, place.id).height_m == 95
    assert not row(circle, PLACES, place.id).letter_box


def test_a_pin_left_as_it_was_goes_along_to_another_town(circle, two, place):
    page = f"/garden/places/{place.id}"

    two[0].post(page, told(place, town="Ludlow, Shropshire"))

    moved = row(circle, PLACES, place.id)
    assert (moved.town, round(moved.latitude, 1)) == ("Ludlow", 52.4)


def test_a_town_typed_as_it_stands_is_not_looked_up_anew(circle, two, place):
    """Newport alone is not clear, but the place knows which Newport it lies in."""
    page = f"/garden/places/{place.id}"
    asked = two[0].post(page, told(place, town="Newport"))
    assert asked.status_code == 422
    assert "There are several" in asked.text
    two[0].post(page, told(place, town="Newport", chosen="52.767,-2.380"))
    stands = row(circle, PLACES, place.id)

    kept = two[0].post(page, told(stands, height_m="70"))

    assert kept.status_code == 303
    assert row(circle, PLACES, place.id).height_m == 70
    assert row(circle, PLACES, place.id).town == stands.town


def test_of_a_shelter_both_are_shown_and_the_second_is_kept_when_pressed_again(circle, two, place):
    page, mine = f"/garden/places/{place.id}/shelter?kind=cold", {"kind": "cold", "trays": "2"}
    second = edited_by_two(two, page, {"kind": "cold", "trays": "4", "carried_in": "y"}, mine)

    assert second.status_code == 422
    assert "is now: “4”." in second.text
    assert "is now: ticked." in second.text
    assert [one.room_pots for one in rows(circle, SHELTERS)] == [32]

    assert pressed_again(two, page, second, mine).status_code == 303
    assert [one.room_pots for one in rows(circle, SHELTERS)] == [16]


def test_two_shelters_of_one_place_do_not_stand_in_each_others_way(circle, two, place):
    page, (one, other) = f"/garden/places/{place.id}/shelter", two
    opened = version_in(one.get(page))
    other.post(page, {"kind": "frost_free", "trays": "4", "version": opened})

    kept = one.post(page, {"kind": "cold", "trays": "2", "version": opened})

    assert kept.status_code == 303
    kinds = {shelter.kind for shelter in rows(circle, SHELTERS)}
    assert kinds == {ShelterKind.COLD, ShelterKind.FROST_FREE}


def test_of_a_count_both_are_shown_even_of_a_batch_that_was_lost(circle, two):
    variety_id = a_variety(circle, "Kettle Ten")
    batch_id = a_batch(circle, "Effie", variety_id, plants=4)
    page, mine = f"/varieties/{variety_id}/batches/{batch_id}", {"plants": "3"}
    second = edited_by_two(two, page, {"plants": "0"}, mine)

    assert second.status_code == 422
    assert "is now: “0”." in second.text
    assert row(circle, BATCHES, batch_id).plants == 0

    assert pressed_again(two, page, second, mine).status_code == 303
    assert row(circle, BATCHES, batch_id).plants == 3


def test_a_lost_batch_has_no_page_to_count_it(circle, two):
    variety_id = a_variety(circle, "Kettle Eleven")
    batch_id = a_batch(circle, "Effie", variety_id, plants=0)

    assert two[0].get(f"/varieties/{variety_id}/batches/{batch_id}").status_code == 404


def test_of_marks_both_are_shown_and_the_second_is_kept_when_pressed_again(circle, two):
    variety_id = a_variety(circle, "Kettle Twelve")
    a_batch(circle, "Effie", variety_id)
    page = f"/varieties/{variety_id}/marks"
    mine = {"keeps": "badly", "target_places": "5"}
    theirs = {
        "keeps": "well",
        "target_places": "3",
        "must_not_be_lost": "y",
        "because": "the last of its kind",
    }
    second = edited_by_two(two, page, theirs, mine)

    assert second.status_code == 422
    assert "“the last of its kind”" in second.text
    assert "is now: “3”." in second.text
    assert row(circle, VARIETIES, variety_id).must_not_be_lost

    assert pressed_again(two, page, second, mine).status_code == 303
    assert row(circle, VARIETIES, variety_id).target_places == 5
    assert not row(circle, VARIETIES, variety_id).must_not_be_lost


def test_a_place_removed_while_the_form_was_open_is_refused_beside_its_field(circle, two):
    variety_id = a_variety(circle, "Kettle Thirteen")
    grown = {"plants": "4", "material": "pot_tuber", "raised": "cool", "origin": "a friend"}

    answer = two[0].post(f"/varieties/{variety_id}/grow", {**grown, "place": "999999"})

    assert answer.status_code == 422
    assert "Choose one of these." in answer.text
    assert 'value="a friend"' in answer.text
    assert rows(circle, BATCHES, variety_id=variety_id) == ()
