from datetime import UTC, datetime, timedelta

import pytest

from exchange.forecasts.base import AnswerError, ForecastFaultKind
from exchange.forecasts.hours import BELIEVABLE_C, Hours, readings_of
from exchange.words.weather.weather import lack_sentence

MIDNIGHT = datetime(2027, 4, 19, tzinfo=UTC)


def read(*pairs):
    """Read a column of (hour, temperature)."""
    times = tuple(MIDNIGHT + timedelta(hours=hour) for hour, _ in pairs)
    return readings_of(Hours(times, [temperature for _, temperature in pairs]))


def temperatures(readings):
    return [one.temperature_c for one in readings]


def test_hours_in_order_lack_nothing():
    readings, lacks = read((0, 3.0), (1, 2.0), (2, 1.0))

    assert (temperatures(readings), lacks) == ([3.0, 2.0, 1.0], ())


@pytest.mark.parametrize(
    ("pairs", "found", "lack"),
    [
        (((0, 3.0), (1, 2.0), (2, None)), [3.0, 2.0], "short"),
        (((0, 3.0), (1, 2.0), (2, BELIEVABLE_C[1] + 0.1)), [3.0, 2.0], "unlikely"),
        (((0, BELIEVABLE_C[0] - 0.1), (1, 2.0)), [2.0], "unlikely"),
        (((1, 2.0), (0, 3.0)), [3.0, 2.0], "order"),
        (((0, 3.0), (1, 2.0), (1, 1.5), (1, 1.8)), [3.0, 1.5], "twice"),
        (((0, 3.0), (2, 1.0)), [3.0, 1.0], "holes"),
        (((0, 3.0), (1, None), (2, 1.0)), [3.0, 1.0], "holes"),
    ],
)
def test_what_is_amiss_is_told_and_the_rest_is_used(pairs, found, lack):
    readings, lacks = read(*pairs)

    assert (temperatures(readings), lacks) == (found, (lack_sentence(lack),))


@pytest.mark.parametrize("extreme", BELIEVABLE_C)
def test_a_record_temperature_is_still_believed(extreme):
    assert read((0, extreme))[1] == ()


@pytest.mark.parametrize("pairs", [(), ((0, None),), ((0, 99.0), (1, None))])
def test_an_answer_without_a_temperature_is_none(pairs):
    with pytest.raises(AnswerError) as refused:
        read(*pairs)

    assert refused.value.kind is ForecastFaultKind.INCOMPLETE


def test_other_figures_go_with_their_hour_and_may_be_missing():
    times = (MIDNIGHT, MIDNIGHT + timedelta(hours=1))
    hours = Hours(times, [3.0, 2.0], dew_point=[1.0, None], cloud=[80.0, 20.0])

    first, second = readings_of(hours, member=4)[0]

    assert (first.dew_point_c, first.wind_ms, first.cloud_pct, first.member) == (1.0, None, 80.0, 4)
    assert (second.dew_point_c, second.cloud_pct) == (None, 20.0)
