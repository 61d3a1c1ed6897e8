"""The weather of all places, said in words."""

from datetime import date, datetime, timedelta

import pytest

from exchange.words.weather.everywhere import forecast_of, kind_words, lead, remarks, usual_only

TUESDAY = date(2027, 4, 6)
LAST = date(2027, 4, 14)


def plain(text):
    return text.replace("\u00a0", " ")


@pytest.mark.parametrize(
    ("places", "frosts", "text"),
    [
        ((16, 18), [0, 1], "Frost is likely at 16 of 18 places: nights of Tue 6 and Wed 7 April; none is likely from Thu 8 on."),
        ((18, 18), [0], "Frost is likely at all 18 places: night of Tue 6 April; none is likely from Wed 7 on."),
        ((1, 1), [8], "Frost is likely at the one place: night of Wed 14 April."),
        ((0, 18), [], "No frost is likely at 18 places up to Wed 14 April."),
    ],
)  # fmt: skip
def test_the_lead_counts_the_places_and_names_the_nights(places, frosts, text):
    nights = [TUESDAY + timedelta(days=n) for n in frosts]

    assert plain(lead(*places, nights, LAST)) == text


def test_a_forecast_for_everywhere_names_no_place():
    issued, old = datetime(2027, 4, 5, 1, 0), timedelta(hours=20)

    assert plain(forecast_of([], "Open-Meteo", issued, old)) == (
        "All by the forecast of Open-Meteo, issued Mon 5 April at 1 am, 20 hours ago"
    )
    assert plain(forecast_of(["Louth"], "X", issued, old)).startswith("Louth: forecast of X, ")
    assert "forecast of a saved file, issued" in plain(forecast_of([], "saved file", issued, old))
    assert usual_only(["Louth", "Fowey"]) == "Louth and Fowey: no forecast, so usual nights."
    assert usual_only([]).startswith("There is no forecast")


def test_a_remark_that_holds_everywhere_is_said_once_any_other_with_its_places():
    said = {"The nights are thin.": ["Louth", "Fowey"], "Some hours are missing": ["Fowey"]}

    assert remarks(said, 2) == ["The nights are thin.", "Fowey: some hours are missing."]


@pytest.mark.parametrize("kind", ["certain", "likely", "perhaps", "unknown"])
def test_each_head_counts_its_places(kind):
    assert plain(kind_words(kind, 1)).endswith(": 1 place")
