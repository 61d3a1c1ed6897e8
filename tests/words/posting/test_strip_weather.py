"""The weather over the strip, said in words."""

from datetime import date, timedelta

from exchange.words.posting.strip_weather import StripNight, StripNights, in_words

MONDAY = date(2027, 4, 5)


def end(where, lows, usual=()):
    """Give an end with the lows forecast from Monday on, then usual ones."""
    told = [
        StripNight(MONDAY + timedelta(days=n), low, is_forecast=True) for n, low in enumerate(lows)
    ]
    later = [
        StripNight(MONDAY + timedelta(days=len(lows) + n), low, is_forecast=False)
        for n, low in enumerate(usual)
    ]
    return StripNights(where, (*told, *later))


def said(*ends):
    return in_words(*ends).replace("\u00a0", " ")


def test_frosts_of_the_same_nights_are_said_together_with_each_lowest():
    text = said(end("Powys", (4, -3, -1, 6), (5, 5)), end("Borders", (3, -5, 0, 7), (3, 3)))

    assert text == (
        "Frost at both ends in the nights of Tue 6 and Wed 7 April, down to −3 °C in Powys and "
        "−5 °C in Borders. No other night up to Thu 8 April is likely to fall under 3 °C. "
        "After that nothing is forecast; usual lows are about 5 °C and 3 °C."
    )


def test_one_lowest_for_both_is_said_once():
    assert "down to −3 °C. No" in said(end("Powys", (-3, 6)), end("Borders", (-3, 6)))


def test_frosts_of_different_nights_are_said_end_by_end():
    text = said(end("Powys", (-1, 5)), end("Borders", (5, -2)))

    assert text.startswith(
        "Frost in Powys in the night of Mon 5 April, down to −1 °C. "
        "Frost in Borders in the night of Tue 6 April, down to −2 °C."
    )


def test_a_night_printed_as_0_is_a_frost_and_one_printed_as_1_is_not():
    assert "Frost in Powys" in said(end("Powys", (0.4, 8)), end("Borders", (9, 9)))
    assert "Frost" not in said(end("Powys", (0.6, 8)), end("Borders", (9, 9)))


def test_without_frost_the_lowest_is_told_and_without_a_forecast_what_is_usual():
    assert said(end("Powys", (6, 7)), end("Borders", (9, 8))) == (
        "No night up to Tue 6 April is likely to fall under 6 °C."
    )
    assert said(end("Powys", (), (5, 6)), end("Borders", (), (5, 5))) == (
        "Nothing is forecast; usual lows are about 6 °C and 5 °C."
    )


def test_an_end_of_which_nothing_is_known_is_passed_over():
    assert "Borders" not in said(end("Powys", (-1, 5)), end("Borders", ()))
    assert said(end("Powys", ()), end("Borders", ())) == ""
