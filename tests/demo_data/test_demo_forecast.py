"""The demo's saved forecast: the service's format, plausible weather, one frost."""

from datetime import datetime, timedelta
from statistics import mean

import pytest

from exchange.paths import DEMO_DATA
from tests.demo_data.reading import TODAY, april_station, forecast, km_between, places, position

HOURS = 16 * 24
START = datetime(2027, 4, 5)
FROST_FROM, FROST_UNTIL = datetime(2027, 4, 6, 15), datetime(2027, 4, 9, 12)
UNITS = {
    "time": "iso8601",
    "temperature_2m": "°C",
    "dew_point_2m": "°C",
    "wind_speed_10m": "km/h",
    "cloud_cover": "%",
}
COASTS = {"Fowey", "Seaford"}
ANSWERS = forecast()


def nearest(place: dict) -> tuple[float, dict]:
    here = position(place)
    return min(
        ((km_between(here, (a["latitude"], a["longitude"])), a) for a in ANSWERS),
        key=lambda pair: pair[0],
    )


def temperatures(answer: dict) -> list[tuple[datetime, float]]:
    hourly = answer["hourly"]
    return [
        (datetime.fromisoformat(at), value)
        for at, value in zip(hourly["time"], hourly["temperature_2m"], strict=True)
        if value is not None
    ]


def night_minima(answer: dict) -> list[float]:
    """Noon to noon, UTC; fifteen whole nights."""
    noons = [START + timedelta(hours=12, days=day) for day in range(15)]
    return [
        min(value for at, value in temperatures(answer) if noon <= at < noon + timedelta(days=1))
        for noon in noons
    ]


def test_the_answer_has_the_form_the_service_gives_for_several_places():
    # Open-Meteo, docs and server source: a list in the order asked; location_id missing in the first.
    for number, answer in enumerate(ANSWERS):
        assert answer.get("location_id", 0) == number
        assert ("location_id" in answer) == (number > 0)
        assert (answer["timezone"], answer["utc_offset_seconds"]) == ("GMT", 0)
        assert answer["hourly_units"] == UNITS
        assert set(answer["hourly"]) == set(UNITS)
        assert {len(values) for values in answer["hourly"].values()} == {HOURS}
        assert isinstance(answer["elevation"], float)


def test_it_covers_sixteen_days_hour_by_hour_from_the_day_the_demo_stands_on():
    wanted = [f"{START + timedelta(hours=hour):%Y-%m-%dT%H:%M}" for hour in range(HOURS)]

    assert START.date() == TODAY
    assert all(answer["hourly"]["time"] == wanted for answer in ANSWERS)


def test_the_file_stays_small():
    assert (DEMO_DATA / "forecast.json").stat().st_size < 400_000


def test_every_town_has_an_answer_of_its_own_close_by():
    found = {}
    for place in places():
        away, answer = nearest(place)
        assert away < 15
        found.setdefault(answer.get("location_id", 0), set()).add(place["town"])

    assert len(found) == len(ANSWERS)
    assert all(len(towns) == 1 for towns in found.values())


def test_the_grid_is_never_quite_where_the_place_is():
    assert all(nearest(place)[0] > 0.3 for place in places())


def test_the_last_hours_are_missing_at_one_place_only():
    gaps = [a for a in ANSWERS if None in a["hourly"]["temperature_2m"]]

    assert len(gaps) == 1
    for name in set(UNITS) - {"time"}:
        values = gaps[0]["hourly"][name]
        missing = values.index(None)
        assert 0 < HOURS - missing < 24
        assert values[missing:] == [None] * (HOURS - missing)


def test_the_values_can_be_weather():
    for answer in ANSWERS:
        hourly = {
            name: [value for value in answer["hourly"][name] if value is not None] for name in UNITS
        }
        pairs = zip(hourly["temperature_2m"], hourly["dew_point_2m"], strict=True)
        assert all(dew < air for air, dew in pairs)
        assert all(0 <= wind < 60 for wind in hourly["wind_speed_10m"])
        assert all(0 <= cloud <= 100 for cloud in hourly["cloud_cover"])
        steps = zip(hourly["temperature_2m"], hourly["temperature_2m"][1:], strict=False)
        assert max(abs(after - before) for before, after in steps) < 4


@pytest.mark.parametrize("place", places(), ids=lambda place: place["town"])
def test_the_days_and_nights_lie_about_the_april_normal(place):
    # Met Office (and Met Eireann) 1991-2020 April means, 6.5 K per km of height; nights within 4 K
    # over a fortnight, days within 4 K.
    _, answer = nearest(place)
    _, station = april_station(place)
    lower = 0.0065 * (answer["elevation"] - float(station["elevation_m"]))
    highs = [
        max(v for at, v in temperatures(answer) if at.date() == TODAY + timedelta(days=day))
        for day in range(15)
    ]

    assert abs(mean(night_minima(answer)) - (float(station["tmin_mean_c"]) - lower)) < 4
    assert abs(mean(highs) - (float(station["tmax_mean_c"]) - lower)) < 4


def test_frost_comes_in_the_nights_of_6_to_8_april_to_most_places():
    frosty = [
        place["town"] for place in places() if min(night_minima(nearest(place)[1])[1:4]) < -0.5
    ]

    assert len(set(frosty)) >= 12
    assert not COASTS & set(frosty)


def test_all_other_nights_are_safe():
    for answer in ANSWERS:
        minima = night_minima(answer)
        assert min(minima[:1] + minima[4:]) >= 3.5


def test_the_frost_stands_alone_so_that_it_can_be_moved():
    for answer in ANSWERS:
        cold = [at for at, value in temperatures(answer) if value < 3]
        assert all(FROST_FROM <= at < FROST_UNTIL for at in cold)


def test_the_highlands_are_colder_than_the_south_coast():
    towns = {place["town"]: nearest(place)[1] for place in places()}
    north, south = towns["Grantown on Spey"], towns["Seaford"]

    assert all(
        high < low for high, low in zip(night_minima(north), night_minima(south), strict=True)
    )
