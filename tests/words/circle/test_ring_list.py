"""The ring list in words."""

from exchange.words.circle import ring_list as words


def test_counties_with_their_people_and_none_without_a_name():
    text = words.as_text([("", [("Odo", "1")]), ("Kent", [("Maud", "2"), ("Ida", "3")])])

    assert text == "County not said\n- Odo: 1\n\nKent\n- Maud: 2\n- Ida: 3"


def test_how_many_are_not_on_it_is_said():
    assert words.lead(2).endswith("2\u00a0members are not on it.")
    assert words.lead(0).endswith("by county.")
