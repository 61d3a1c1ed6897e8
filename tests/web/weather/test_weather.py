"""The pages of the weather: own places in full, others by name and county; notes, files, learning."""

import re
from datetime import date, timedelta
from io import BytesIO

import pytest

from exchange.domain.circle.place import Lie
from exchange.records import (
    DAILY_FILES,
    FAULTS,
    FROST_NOTES,
    OBSERVATIONS,
    PLACES,
    forecasts_kept,
)
from tests.app_fixtures import NOW, Visitor
from tests.builders.weather import a_forecast, hourly


def path(circle, end="", name="Effie"):
    return f"/weather/places/{circle.place(name).id}{end}"


def rows(circle, repository):
    with circle.house.books.reading() as tx:
        return repository.all(tx, circle.circle_id)


def forecast_for(circle, name="Effie", readings=4.0, **changes):
    start = NOW - timedelta(hours=NOW.hour)
    readings = hourly([readings] * 120, start=start)
    place = circle.place(name).id
    issued = NOW - timedelta(hours=2)
    with circle.house.books.writing() as tx:
        one = a_forecast(readings, place_id=place, issued_at=issued, **changes)
        forecasts_kept.add(tx, circle.circle_id, one)


def version_in(page):
    return re.search(r'name="version"[^>]*value="([^"]*)"', page.text).group(1)


def plain(answer):
    return " ".join(answer.text.replace("\u00a0", " ").split())


def test_a_member_sees_her_own_place_in_full_and_of_others_name_and_county_only(here, circle):
    text = plain(Visitor(here, circle["Effie"]).get("/weather"))

    assert "<b>Inverness</b> Effie" in text
    assert "<b>Shropshire</b> Winnie" in text
    assert "Ludlow" not in text
    assert "Penzance" not in text
    assert circle["Effie"].surname not in text.replace(circle["Effie"].full_name, "")


def test_the_organiser_sees_every_place(here, circle):
    text = plain(Visitor(here, circle["Winnie"]).get("/weather"))

    for town in ("Ludlow", "Penzance", "Inverness"):
        assert f"<b>{town}</b>" in text


def test_source_age_and_what_it_lacks_are_said_with_the_credit_linked(here, circle):
    forecast_for(circle, lacks=("the forecast has no dew points",))
    text = plain(Visitor(here, circle["Effie"]).get(path(circle)))

    assert "Forecast of Open-Meteo, issued Mon 5 April at 8 am" in text
    assert "2 hours ago" in text
    assert "the forecast has no dew points" in text
    assert '<a href="https://open-meteo.com/" rel="noreferrer">' in text


def test_an_old_forecast_is_said_to_be_old(here, circle):
    forecast_for(circle, expires_at=NOW - timedelta(hours=7))

    assert "older than it should be" in plain(Visitor(here, circle["Effie"]).get("/weather"))


def test_what_went_wrong_with_a_source_stands_on_the_page(here, circle):
    with circle.house.books.writing() as tx:
        FAULTS.add(tx, circle.circle_id, source="X", what="X: It took too long.", at=NOW)

    for page in ("/weather", path(circle)):
        assert "X: It took too long." in Visitor(here, circle["Effie"]).get(page).text


def test_frost_dates_name_thermometer_inequality_years_share_and_convention(here, circle):
    text = plain(Visitor(here, circle["Winnie"]).get(path(circle, name="Winnie")))

    assert "Usual nights of the weather station" in text
    assert "km away, 1991 to 2020" in text
    assert "air frost (below 0 °C in the screen)" in text
    assert "10 in 100 springs" in text
    assert "%" not in text.split("</head>")[-1]


def test_planting_out_is_told_and_two_stations_that_disagree_are_named(here, circle):
    where = {"latitude": 57.33, "longitude": -3.61, "height_m": 215.0, "lie": Lie.OPEN}
    place = circle.place("Winnie")
    with circle.house.books.writing() as tx:
        PLACES.change(tx, circle.circle_id, place.id, **where)
    text = plain(Visitor(here, circle["Winnie"]).get(path(circle, name="Winnie")))

    assert "fuchsias and tender salvias go out from about 11 June" in text
    assert "Coleus and foliage begonias keep better under glass here" in text
    assert "Nairn says about 11 June, Braemar about 22 June" in text

    with circle.house.books.writing() as tx:
        PLACES.change(tx, circle.circle_id, place.id, frost_rare_day=158)
    told = plain(Visitor(here, circle["Winnie"]).get(path(circle, name="Winnie")))

    assert "You say that frost is rare from 7 June on." in told
    assert "tender salvias go out from about 18 June" in told
    assert "Braemar" not in told


def test_beyond_every_station_it_is_said_to_be_unknown(here, circle):
    with circle.house.books.writing() as tx:
        PLACES.change(tx, circle.circle_id, circle.place("Effie").id, latitude=0.0, longitude=-30.0)
    text = plain(Visitor(here, circle["Effie"]).get(path(circle)))

    assert "No weather station lies within 100 km" in text
    assert "so nothing is said of the cold" in text


def test_a_frost_note_is_kept_shown_and_undone(here, circle):
    visitor = Visitor(here, circle["Effie"])
    answer = visitor.post(path(circle, "/note"), {"night": "2027-04-06", "minimum_c": "−3,5"})
    (kept,) = rows(circle, FROST_NOTES)
    page = plain(visitor.get(answer.headers["Location"]))

    assert (kept.night, kept.minimum_c) == (date(2027, 4, 6), -3.5)
    assert "Tue 6 April: −3.5 °C" in page
    assert f'action="/weather/notes/{kept.id}/remove"' in page

    visitor.post(f"/weather/notes/{kept.id}/remove")
    assert rows(circle, FROST_NOTES) == ()


@pytest.mark.parametrize(
    "wrong", [{"night": "soon", "minimum_c": "-3"}, {"night": "2027-04-06", "minimum_c": "cold"}]
)
def test_a_note_that_cannot_be_read_comes_back_with_what_was_typed(here, circle, wrong):
    answer = Visitor(here, circle["Effie"]).post(path(circle, "/note"), wrong)

    assert answer.status_code == 422
    assert f'value="{wrong["minimum_c"]}"' in answer.text
    assert rows(circle, FROST_NOTES) == ()


def test_two_notes_of_one_night_are_both_shown_and_the_second_kept_when_pressed_again(here, circle):
    effie, partner = Visitor(here, circle["Effie"]), Visitor(here, circle["Effie"])
    opened = version_in(effie.get(path(circle, "/note")))
    note = {"night": "2027-04-06", "minimum_c": "-1"}
    partner.post(path(circle, "/note"), {**note, "version": opened})

    second = effie.post(path(circle, "/note"), {**note, "minimum_c": "-5", "version": opened})

    assert second.status_code == 422
    assert "This was changed meanwhile and is now: “-1”." in plain(second)
    assert [one.minimum_c for one in rows(circle, FROST_NOTES)] == [-1.0]
    again = {**note, "minimum_c": "-5", "version": version_in(second)}
    assert effie.post(path(circle, "/note"), again).status_code == 303
    assert [one.minimum_c for one in rows(circle, FROST_NOTES)] == [-5.0]


def test_frost_tonight_tells_minimum_and_doubt_and_for_which_nights_it_holds(here, circle):
    visitor = Visitor(here, circle["Effie"])
    asked = {"temperature_c": "3", "dew_point_c": "-2", "clear": "y", "still": "y"}
    text = plain(visitor.post(path(circle, "/tonight"), asked))
    windy = plain(visitor.post(path(circle, "/tonight"), asked | {"still": ""}))

    assert "On a clear, still night like this it may fall to about −4 °C" in text
    assert "80 in 100 such nights between −7 °C and −2 °C" in text
    assert "This holds for clear, calm nights only." in text
    assert "an evening reading says little of the night" not in text
    assert "In wind or under cloud an evening reading says little of the night" in windy


def test_two_answers_that_disagree_are_both_shown_and_the_worse_is_used(here, circle):
    forecast_for(circle, readings=8.0)
    visitor = Visitor(here, circle["Effie"])
    asked = {"temperature_c": "2", "dew_point_c": "-4", "clear": "y", "still": "y"}
    text = plain(visitor.post(path(circle, "/tonight"), asked))
    windy = plain(visitor.post(path(circle, "/tonight"), asked | {"still": ""}))

    reading = re.search(r"frost about (over )?(\d+) in 100", text).group(2)
    assert int(reading) > 90
    assert re.search(r"By the forecast about \d °C, frost (fewer than 1|[1-5]) in 100\.", text)
    assert f"The two disagree. Go by the worse: frost {reading} in 100." in text
    assert "Together with the forecast" not in text
    assert "By the forecast" in windy
    assert "Go by the worse" not in windy


def test_a_daily_file_is_looked_over_kept_and_undone(here, circle):
    visitor = Visitor(here, circle["Effie"])
    content = b"date,tmin_c\n2027-04-01,-1\n2027-04-02,2.5\n"
    sent = visitor.post(
        path(circle, "/file"),
        {"file": (BytesIO(content), "own.csv")},
        content_type="multipart/form-data",
    )
    preview = plain(visitor.get(sent.headers["Location"]))
    (file,) = rows(circle, DAILY_FILES)
    assert sent.status_code == 303
    assert "Nothing of it is kept yet." in preview
    assert rows(circle, OBSERVATIONS) == ()

    visitor.post(f"/weather/files/{file.id}/keep")
    assert [one.minimum_c for one in rows(circle, OBSERVATIONS)] == [-1.0, 2.5]
    again = visitor.post(f"/weather/files/{file.id}/keep")
    assert again.status_code == 303
    assert len(rows(circle, OBSERVATIONS)) == 2

    visitor.post(f"/weather/files/{file.id}/remove")
    assert rows(circle, OBSERVATIONS) == ()


def test_the_lines_of_a_file_that_cannot_be_read_are_named(here, circle):
    content = b"date,tmin_c\n2027-04-01,<script>\n2027-04-02,2.5\n"
    answer = Visitor(here, circle["Effie"]).post(
        path(circle, "/file"),
        {"file": (BytesIO(content), "own.csv")},
        content_type="multipart/form-data",
    )

    assert answer.status_code == 422
    assert "Line 2:" in answer.text
    assert "&lt;script&gt;" in answer.text
    assert rows(circle, DAILY_FILES) == ()


def test_no_file_chosen_is_said(here, circle):
    answer = Visitor(here, circle["Effie"]).post(path(circle, "/file"), {})

    assert answer.status_code == 422
    assert "Choose a file first." in answer.text


def test_a_night_is_typed_and_shown_and_with_its_forecast_compared(here, circle):
    forecast_for(circle)
    visitor = Visitor(here, circle["Effie"])
    here.clock.at = NOW + timedelta(days=1)
    visitor.post(path(circle, "/observed"), {"day": "2027-04-06", "minimum_c": "1.5"})
    shown = plain(visitor.get(path(circle, "/observed")))
    record = plain(visitor.get(path(circle, "/record")))

    assert "1.5 °C" in shown
    assert "1 day ahead" in record
    assert "Brier’s measure" in record
    assert "there are 1." in record


def test_learning_from_too_few_nights_is_refused_in_words(here, circle):
    visitor = Visitor(here, circle["Effie"])
    for what in ("spread", "shift"):
        answer = visitor.post(path(circle, f"/record/{what}"), follow_redirects=True)
        assert f"There is no better {what} to keep." in answer.text


def test_the_weather_is_reached_from_the_circle_and_from_the_parcels(here, circle):
    for name in ("Effie", "Winnie"):
        visitor = Visitor(here, circle[name])
        assert 'href="/weather"' in visitor.get("/circle").text
        assert 'href="/weather"' in visitor.get("/parcels").text
