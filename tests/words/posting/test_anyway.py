"""Posting against the plan's advice, said before, to both ends, and on the slip."""

from datetime import UTC, datetime

from exchange.words.posting.anyway import chosen_by, warned, why_told

AT = datetime(2027, 4, 5, 9, 5, tzinfo=UTC)


def plain(text):
    return text.replace("\u00a0", " ")


def test_the_chance_is_said_before_to_both_ends_and_on_the_slip():
    assert (
        plain(warned(0.62)) == "62 in 100 such parcels come to harm. The plan advises against it."
    )
    assert (
        plain(why_told(0.62)) == "It was chosen knowing that 62 in 100 such parcels come to harm."
    )
    assert plain(chosen_by("Winnie Hollis", AT, 0.62)) == (
        "Posted against the plan’s advice: 62 in 100 come to harm. "
        "Chosen by Winnie Hollis on Mon 5 April at 9.05 am."
    )


def test_where_the_weather_is_not_known_no_chance_is_made_up():
    for text in (warned(None), why_told(None), chosen_by("Winnie", AT, None)):
        assert "in 100" not in text
        assert "not known" in text
