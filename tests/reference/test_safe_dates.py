"""Safe dates from station months against the last frosts of thirty real springs.

Daily minima 1991 to 2020, air frost below 0.0 C: Dublin Airport (Met Eireann), Hoogeveen, Hupsel and
Herwijnen (KNMI). Our dates rest on months only and may err on the late, that is the safe, side.
"""

import csv
from datetime import date

import numpy as np
import pytest

from exchange.domain.weather.frost import _plain_day, safe_date
from exchange.reference.stations import climate_near, stations
from tests.builders.weather import chance_of_frost_from
from tests.house import ROOT

FOLDER = ROOT.parent / "shared" / "data" / "daily"
FILES = {
    "Dublin Airport": "dublin_airport",
    "Hoogeveen": "knmi_279_hoogeveen",
    "Hupsel": "knmi_283_hupsel",
    "Herwijnen": "knmi_356_herwijnen",
}

pytestmark = pytest.mark.skipif(not FOLDER.is_dir(), reason="the daily files are not here")


def last_frosts(name):
    """Give each year's last frost of the spring as a day of the year, 0 in a year without one."""
    last = {}
    with (FOLDER / f"{FILES[name]}_daily.csv").open(encoding="utf-8") as file:
        for row in csv.DictReader(file):
            day = date.fromisoformat(row["date"])
            if row["tmin_c"] and 1991 <= day.year <= 2020 and day.month < 8:
                last.setdefault(day.year, 0)
                if float(row["tmin_c"]) < 0.0:
                    last[day.year] = max(last[day.year], _plain_day(day))
    return list(last.values())


def climate_of(name):
    station = next(station for station in stations() if station.name == name)
    return climate_near(station.latitude, station.longitude)


@pytest.mark.parametrize("name", FILES)
def test_the_safe_date_is_the_ninetieth_percentile_or_up_to_eleven_days_later(name):
    real = float(np.quantile(last_frosts(name), 0.9))
    ours = safe_date(climate_of(name), 2027).day.timetuple().tm_yday

    assert -1 <= ours - real <= 11


@pytest.mark.parametrize("name", FILES)
def test_the_chance_of_frost_from_a_day_on_is_close_to_what_came(name):
    real = last_frosts(name)
    for month, day in ((4, 1), (4, 15), (5, 1), (5, 15)):
        evening = date(2027, month, day)
        came = np.mean([last > evening.timetuple().tm_yday for last in real])

        assert chance_of_frost_from(climate_of(name), evening) == pytest.approx(came, abs=0.13)


def test_dublins_last_frosts_are_as_measured():
    # chance of an air frost after 1 April, 15 April, 1 May and 15 May: .83 .70 .30 .03
    real = last_frosts("Dublin Airport")
    after = [np.mean([last > day for last in real]) for day in (91, 105, 121, 135)]

    assert after == pytest.approx([0.83, 0.70, 0.30, 0.03], abs=0.005)
    assert float(np.median(real)) == pytest.approx(110, abs=1)  # 20 April
