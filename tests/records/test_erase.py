"""Which words are a person's traces, and how they are found in texts."""

import pytest

from exchange.records.erase import _cleaned, _pattern


@pytest.mark.parametrize(
    ("text", "clean"),
    [
        ("Post to Effie by 4 pm", "Post to X by 4 pm"),
        ("Effie’s parcel, Effie's pot", "X’s parcel, X's pot"),
        ("Effietta and Neffie", "Effietta and Neffie"),
        ("Effie Trewhella came", "X came"),
        ("effie.pellow@example.org wrote", "X wrote"),
    ],
)
def test_names_are_found_as_whole_words_the_longest_first(text, clean):
    names = frozenset({"Effie", "Effie Trewhella", "effie.pellow@example.org"})

    assert _cleaned(text, [(_pattern(names), "X")]) == clean


def test_a_month_is_no_name_after_a_day_or_in():
    patterns = [(_pattern(frozenset({"May"})), "X")]

    assert _cleaned("3\u00a0May, in May, week of May, for May", patterns) == (
        "3\u00a0May, in May, week of May, for X"
    )


def test_texts_are_found_however_deep_a_stored_plan_holds_them():
    plan = {"rules": [{"said": "for Effie", "count": 3}], "Effie": None}

    assert _cleaned(plan, [(_pattern(frozenset({"Effie"})), "X")]) == {
        "rules": [{"said": "for X", "count": 3}],
        "Effie": None,
    }
