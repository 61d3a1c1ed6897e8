"""The town somebody types: one, none, or several to choose from."""

import pytest

from exchange.actions.people.towns import (
    TownNotClearError,
    TownNotFoundError,
    TownWanted,
    find_town,
    key_of,
    name_of,
)


def test_towns_of_one_name_are_told_apart_in_the_sentence_and_in_the_choice():
    with pytest.raises(TownNotClearError) as asked:
        find_town(TownWanted("Newport"))

    names = [name_of(town) for town in asked.value.towns]
    assert len(set(names)) == len(names)
    assert {"Newport, Wales", "Newport, Essex", "Newport, Isle of Wight"} <= set(names)
    assert str(asked.value) == f"There are several: {'; '.join(names)}. Choose yours."


def test_the_one_chosen_is_taken():
    with pytest.raises(TownNotClearError) as asked:
        find_town(TownWanted("Newport"))
    essex = next(town for town in asked.value.towns if town.county == "Essex")

    assert find_town(TownWanted("Newport", key_of(essex))) == essex


def test_an_unknown_town_is_told():
    with pytest.raises(TownNotFoundError, match="nearest larger town"):
        find_town(TownWanted("Xyzzyton"))


def test_a_district_is_named_by_its_town():
    assert name_of(find_town(TownWanted("sy8 1aa"))) == "SY8: Ludlow, Shropshire"


def test_a_misspelt_town_is_asked_about_and_taken_when_chosen():
    with pytest.raises(TownNotClearError) as asked:
        find_town(TownWanted("Ludlwo"))
    (ludlow,) = asked.value.towns

    assert "Choose one of these" in str(asked.value)
    assert find_town(TownWanted("Ludlwo", key_of(ludlow))) == ludlow
