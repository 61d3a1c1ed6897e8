"""The replay weighs and chooses as the planner does, on sampled parcels."""

from dataclasses import replace
from datetime import date, datetime, time, timedelta
from zoneinfo import ZoneInfo

import numpy as np
import pytest

from exchange.domain.growing.shelter import Shelter, ShelterKind
from exchange.domain.posting.choose_days import choose_days
from exchange.domain.posting.options import cases
from exchange.domain.posting.packing import packing
from exchange.domain.posting.planned_days import planned_days
from exchange.domain.posting.replay import losses, rules
from exchange.domain.posting.replay.process import LEADS, Process, forecasts
from exchange.domain.posting.replay.springs import BEFORE_MARCH, READY, past_springs
from exchange.domain.posting.weigh import weigh
from exchange.domain.weather.blend import lead_spread
from exchange.domain.weather.forecast import Night, Outlook, WeatherSource
from tests.builders.posting import a_household, a_line, a_parcel, a_place, facts
from tests.builders.springs import daily_minima

SAMPLED = 60


@pytest.fixture(scope="module")
def springs():
    return past_springs(daily_minima(colds=(3.0, 5.0), years=range(2001, 2007)))


@pytest.fixture(scope="module")
def drawn(springs):
    return forecasts(springs, Process.LASTING, np.full((2, 2), 300.0), np.random.default_rng(1))


@pytest.fixture(scope="module")
def weighed(springs, drawn):
    return losses.weighed_losses(springs, drawn, lambda _done, _of: None)


def day_of(springs, spring, axis):
    return date(springs.years[spring], 3, 1) + timedelta(days=int(axis) - BEFORE_MARCH)


def outlook(springs, nights, place, where, evening):
    """Lay the replay's nights of a place out as the planner is given them."""
    end, spring = where
    mean, spread, high = (each[end, spring] for each in nights)
    first = day_of(springs, spring, evening)
    laid = tuple(
        Night(first + timedelta(days=n), *map(float, figures), WeatherSource.FORECAST)
        for n, figures in enumerate(zip(mean, spread, high, strict=True))
    )
    return Outlook(place, laid, WeatherSource.FORECAST)


def planned(springs, drawn, sent, evening, stock):
    """Weigh and choose as the planner does, on an evening; give losses by day, and the day chosen."""
    spring, ends = int(sent.spring[0]), losses.WAYS_ROUND[int(sent.pair[0])]
    nights = losses.nights_on(springs, drawn, evening)
    ready = day_of(springs, spring, sent.ready[0])
    species, material, raised = stock
    line = a_line(
        species=species,
        material=material,
        raised=raised,
        ready_from=ready,
        send_by=ready + timedelta(days=90),
    )
    around = facts(
        (a_parcel(lines=(line,)),),
        households={n: a_household(n) for n in (1, 2)},
        places={n: a_place(n) for n in (1, 2)},
        shelters=(Shelter(2, ShelterKind.INDOORS),),
        ways={1: losses.WAY},
        outlooks={
            n: outlook(springs, nights, n, (end, spring), evening)
            for n, end in zip((1, 2), ends, strict=True)
        },
    )
    at = datetime.combine(day_of(springs, spring, evening), time(18), ZoneInfo("Europe/London"))
    laid = planned_days(cases(around.parcels, around, at), around)
    options = weigh(laid, {1: packing(around.terms.default_packing)}, laid.cases)
    picked = choose_days(laid.cases, options, around).options[1]
    return np.array([one.loss for one in options[1]]), picked


def test_the_replay_weighs_and_chooses_as_the_planner_does(springs, drawn, weighed):
    chance = np.random.default_rng(2)
    stock = list(losses.STOCK.values())
    anything = replace(losses.TERMS, announced_days=losses.TERMS.horizon)
    without = 0

    for _ in range(SAMPLED):
        kind = int(chance.integers(len(stock)))
        whole = rules.parcels(springs, losses.TERMS.posting_days[stock[kind][1]].quick)
        sent = one_of(whole, int(chance.integers(len(whole.ready))))
        evening = sent.ready + int(chance.integers(-1, 10))
        row = weighed[evening - losses.FIRST_EVENING, sent.spring, sent.pair, kind]

        lost, picked = planned(springs, drawn, sent, int(evening[0]), stock[kind])
        told, _ = rules.judged(sent, evening, row, (np.array([0]), np.zeros(1)), anything)

        assert row[0] == pytest.approx(lost, abs=1e-6)
        assert int(told[0]) == (picked.offset if picked else 0)
        without += picked is None

    assert 0 < without < SAMPLED / 2, "some sampled parcels must wait, and most must have a day"


def one_of(whole, index):
    columns = {
        name: getattr(whole, name)[index : index + 1] for name in ("spring", "pair", "ready")
    }
    return replace(whole, **columns)


def test_the_planner_takes_a_forecast_as_far_as_it_goes_and_then_climate(springs, drawn):
    mean, spread, high = losses.nights_on(springs, drawn, READY)

    usual, climate = springs.usual[:, :, READY:], springs.spread[:, :, READY:]
    assert (mean[:, :, :LEADS] == drawn[:, :, READY]).all()
    assert (mean[:, :, LEADS:] == usual[:, :, LEADS : mean.shape[2]]).all()
    assert (spread[:, :, LEADS:] == climate[:, :, LEADS : mean.shape[2]]).all()
    for ahead, lead_days in ((0, 1.5), (9, 10.5)):
        said = lead_spread(lead_days, float(climate[1, 0, ahead]))
        assert spread[1, 0, ahead] == pytest.approx(said)
    departs = mean[0, 0, 0] - usual[0, 0, 0]
    assert high[0, 0, 0] == pytest.approx(usual[0, 0, 0] + 8 + 0.7 * departs)


def test_the_odds_of_the_post_walk_round_sunday():
    odds = losses.odds()

    assert odds[0] == pytest.approx([0, 0.775, 0.148, 0.043, 0.034, 0])
    assert odds[2] == pytest.approx([0, 0.775, 0.148, 0.043, 0, 0.034])
    assert odds[5] == pytest.approx([0, 0, 0.775, 0.148, 0.043, 0.034])


def test_what_came_is_known_without_doubt_and_no_forecast_changes_it(springs):
    cold = replace(springs, lows=np.full_like(springs.lows, -9.0))
    mild = replace(springs, lows=np.full_like(springs.lows, 9.0))

    assert losses.true_losses(cold).min() > 0.5
    assert losses.true_losses(mild).max() < 0.02


def test_frosted_nights_are_the_sender_s_first_then_the_receiver_s_while_it_is_on_the_way(springs):
    lows = np.full_like(springs.lows, 5.0)
    day = next(day for day in range(READY, READY + 7) if (springs.weekdays[0] + day) % 7 == 0)
    lows[0, 0, day], lows[0, 0, day + 1] = 0.0, -9.0
    lows[1, 0, day + 1] = -1.0
    here_first = losses.WAYS_ROUND.index((0, 1))

    frosts = losses.true_frosts(replace(springs, lows=lows))

    assert frosts[0, here_first, day] == pytest.approx(1 + 0.225)
    assert frosts[0, here_first, day - 1] == pytest.approx(0.0 + 0.043 + 0.034, abs=0.2)
