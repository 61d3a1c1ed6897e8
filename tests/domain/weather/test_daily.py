import math
from datetime import date, timedelta

import pytest

from exchange.domain.weather.climate import usual_night
from exchange.domain.weather.daily import DAY_SWING_K, DayRead, TooShortError, climate_of_days


def a_file(years, *, highs=True):
    """Build a smooth year with nights 2 K warmer and colder in turn."""
    start = date(2026 - years, 1, 1)
    days = [start + timedelta(days=offset) for offset in range((date(2026, 1, 1) - start).days)]
    reads = []
    for day in days:
        usual = 6.0 - 5.0 * math.cos(2 * math.pi * (day.timetuple().tm_yday - 20) / 365.25)
        minimum = usual + (2.0 if day.toordinal() % 2 else -2.0)
        reads.append(DayRead(day, minimum, minimum + 9.0 if highs else None))
    return reads


def test_a_daily_file_tells_what_is_usual_and_how_nights_differ():
    climate = climate_of_days(a_file(10), "our own file")

    night = usual_night(climate, date(2027, 4, 19))
    assert night.mean_c == pytest.approx(6.0 - 5.0 * math.cos(2 * math.pi * 90 / 365.25), abs=0.1)
    assert night.sd_k == pytest.approx(2.0, abs=0.05)
    assert climate.base_period == "2016-2025"
    assert climate.name == "our own file"


def test_months_with_frost_are_counted_by_years():
    climate = climate_of_days(a_file(10), "our own file")

    assert climate.any_frost[0] == 1.0
    assert climate.any_frost[6] == 0.0


def test_without_highs_the_usual_swing_stands_in():
    climate = climate_of_days(a_file(6, highs=False), "our own file")

    assert climate.maximum_c[3] == pytest.approx(climate.minimum_c[3] + DAY_SWING_K)


def test_too_few_years_are_refused():
    with pytest.raises(TooShortError, match="5 years"):
        climate_of_days(a_file(4), "our own file")
    with pytest.raises(TooShortError):
        climate_of_days([], "our own file")


def test_a_month_with_few_days_does_not_count():
    gappy = [read for read in a_file(5) if read.day.month != 4 or read.day.day < 15]

    with pytest.raises(TooShortError):
        climate_of_days(gappy, "our own file")
