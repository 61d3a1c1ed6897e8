from datetime import date, timedelta

import pytest

from exchange.domain.weather.compare import results_by_lead
from exchange.domain.weather.corrected import RAW_COLD_CORRECTION_K
from exchange.domain.weather.daily import DayRead
from exchange.domain.weather.pairs import observed_nights, pairs
from tests.builders.weather import NOW, Pin, a_climate, a_forecast, hourly

TONIGHT = date(2026, 4, 18)


def a_kept_forecast(minimum=1.0, *, nights=4, issued_at=NOW, **changes):
    day = [minimum] * 8 + [9.0] * 16
    return a_forecast(hourly(day * (nights + 1)), issued_at=issued_at, **changes)


def paired(*forecasts, observed=None):
    seen = observed or {TONIGHT + timedelta(days=n): 2.0 for n in range(8)}
    return pairs(Pin(), forecasts, a_climate(), seen)


def test_every_night_forecast_and_observed_is_a_pair():
    found = paired(a_kept_forecast())

    assert [pair.compared.night for pair in found] == [
        TONIGHT + timedelta(days=n) for n in range(4)
    ]
    assert found[0].compared.lead_days == pytest.approx(20 / 24)
    assert found[0].compared.observed_c == 2.0


def test_for_refitting_the_forecast_stands_before_any_blending():
    kept = paired(a_kept_forecast())[2].kept

    assert kept.forecast_c == pytest.approx(1.0 - RAW_COLD_CORRECTION_K)
    assert not kept.regressed


def test_fetching_often_weighs_nothing():
    hours = [NOW + timedelta(hours=n) for n in range(3)]
    often = [a_kept_forecast(issued_at=at) for at in hours]

    assert paired(*often) == paired(often[0])


def test_other_leads_of_one_night_are_pairs_of_their_own():
    later = a_kept_forecast(issued_at=NOW + timedelta(days=1))
    found = paired(a_kept_forecast(), later)

    nights = [pair.compared.night for pair in found]
    assert nights.count(TONIGHT + timedelta(days=1)) == 2
    assert len(results_by_lead([pair.compared for pair in found])) == 4


def test_nights_nobody_observed_are_no_pairs():
    assert paired(a_kept_forecast(), observed={date(2026, 6, 1): 4.0}) == ()


def test_the_minimum_of_a_daily_file_belongs_to_the_night_that_ended_that_day():
    assert observed_nights([DayRead(date(2026, 4, 19), 2.5)]) == {TONIGHT: 2.5}
