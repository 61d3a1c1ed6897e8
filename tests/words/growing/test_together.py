"""Plants of one kind are one line, with their numbers added up."""

from exchange.domain.growing.batch import Material, Raised
from exchange.words.growing.together import Plants, in_place, together

COOL = Plants(1, Material.ROOTED, Raised.COOL, 1)


def test_the_same_variety_material_and_raising_are_added_up_where_the_first_stood():
    other = Plants(2, Material.ROOTED, Raised.COOL, 5)

    assert together([COOL, other, COOL]) == (Plants(1, Material.ROOTED, Raised.COOL, 2), other)


def test_another_material_or_raising_is_a_line_of_its_own():
    lines = (
        COOL,
        Plants(1, Material.YOUNG_PLANT, Raised.COOL, 1),
        Plants(1, Material.ROOTED, Raised.IN_HEAT, 1),
    )

    assert together(lines) == lines


def test_how_a_tuber_was_raised_makes_no_line_of_its_own():
    tubers = [Plants(1, Material.POT_TUBER, how, 2) for how in (Raised.COOL, Raised.IN_HEAT)]

    assert [one.count for one in together(tubers)] == [4]


def test_what_comes_in_place_of_another_is_said_of_as_many_as_do():
    instead = Plants(1, Material.ROOTED, Raised.COOL, 1, "Dahlia ‘Old Sluice’")

    assert in_place("2 x", [COOL, COOL]) == "2 x"
    assert (
        in_place("1 x", [instead]) == "1 x, in place of Dahlia ‘Old Sluice’, as your claim allows"
    )
    assert in_place("2 x", [COOL, instead]) == (
        "2 x; 1 of them in place of Dahlia ‘Old Sluice’, as your claim allows"
    )
