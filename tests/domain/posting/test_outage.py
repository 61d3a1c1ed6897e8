"""An outage moves no announced day; only a stop does."""

from dataclasses import replace
from datetime import timedelta

import pytest

from exchange.domain.circle.away import Away
from exchange.domain.posting.announced import Ground
from exchange.domain.posting.reasons import Topic
from exchange.domain.weather.forecast import WeatherSource
from tests.builders.announcing import ISSUED, WEDNESDAY, a_told, both, plan_one, told
from tests.builders.posting import (
    NOW,
    a_line,
    a_parcel,
    an_outlook,
)


def without_forecast(**more):
    return both(0.5, sd=4.0, source=WeatherSource.CLIMATE, **more)


OUTAGES = {
    "no source": lambda: {
        n: an_outlook(n, means=0.5, sd=4.0, source=WeatherSource.CLIMATE) for n in (1, 2)
    },
    "nothing at all": dict,
    "an older forecast": lambda: {
        n: an_outlook(n, means=-4, issued_at=ISSUED - timedelta(hours=12)) for n in (1, 2)
    },
    "fewer nights": lambda: {1: fewer_nights(1), 2: fewer_nights(2)},
    "one end only": lambda: {
        1: an_outlook(1, issued_at=ISSUED),
        2: an_outlook(2, means=-4, source=WeatherSource.CLIMATE),
    },
}


def fewer_nights(place):
    whole = an_outlook(place, means=[8, 8, 8, -4, -4, -4], issued_at=ISSUED)
    nights = tuple(
        replace(one, source=WeatherSource.CLIMATE) if one.day > WEDNESDAY else one
        for one in whole.nights
    )
    return replace(whole, nights=nights)


@pytest.mark.parametrize("outage", OUTAGES.values(), ids=OUTAGES)
def test_an_outage_moves_nothing(outage):
    first = plan_one(a_parcel(lines=(a_line(ready_from=WEDNESDAY),)), outlooks=both(8))
    assert (first.day, first.announced) == (WEDNESDAY, True)
    standing = told(a_parcel(lines=(a_line(ready_from=WEDNESDAY),)), first)

    dark = plan_one(standing, NOW + timedelta(days=1), outlooks=outage())

    assert (dark.day, dark.moved, dark.announced) == (WEDNESDAY, None, True)
    assert dark.known == standing.known
    assert Topic.LESS_KNOWN in {one.about for one in dark.reasons}


def test_what_was_known_before_the_outage_is_compared_with_when_it_is_over():
    standing = a_told()
    standing = told(standing, plan_one(standing, outlooks=both(8)))
    dark = told(standing, plan_one(standing, outlooks=OUTAGES["no source"]()))

    back = plan_one(dark, outlooks=both(-6))

    assert back.moved.ground is Ground.RISKIER


@pytest.mark.parametrize("outage", OUTAGES.values(), ids=OUTAGES)
def test_a_hard_stop_moves_a_day_in_an_outage_too(outage):
    standing = a_told()
    standing = told(standing, plan_one(standing, outlooks=both(8)))

    away = (Away(1, WEDNESDAY, WEDNESDAY, cannot_receive=False),)
    plan = plan_one(standing, outlooks=outage(), away=away)

    assert plan.moved.ground is Ground.STOPPED
