import numpy as np
import pytest
from scipy.stats import norm

from exchange.domain.posting.replay import belief
from exchange.domain.posting.replay.expected import frosted, normal_share
from exchange.domain.posting.replay.ours import pairs_of, standing
from exchange.domain.posting.replay.process import forecasts, skill
from exchange.domain.posting.replay.springs import past_springs
from exchange.domain.posting.replay.value import best_open, draw, fit
from tests.builders.springs import daily_minima


@pytest.fixture(scope="module")
def springs():
    return past_springs(daily_minima(years=range(1970, 2001)))


def test_the_normal_share_agrees_with_scipy():
    x = np.linspace(-5, 5, 201)
    assert normal_share(x) == pytest.approx(norm.cdf(x), abs=2e-7)


def test_the_filter_knows_more_than_the_newest_forecast_and_less_than_the_truth():
    known = belief.settled_filter(0.65, 0.5)
    newest = np.sqrt(1 - skill())
    assert (known.spread[: belief.LEADS] < newest).all()
    assert (known.spread > 0.05).all()
    assert (np.diff(known.spread[: belief.NIGHTS]) > 0).all()


def test_the_filter_is_as_sure_as_it_says(springs):
    """Its errors over the springs have the standard deviation it claims, night by night."""
    drawn = forecasts(springs, np.random.default_rng(3))
    pair = pairs_of(springs)[0]
    mean = belief.means(springs, drawn, pair.ends, pair.known)
    true = springs.anomalies()
    for ahead in (0, 2, 5):
        days = np.arange(20, 90)
        error = mean[:, days, ahead] - true[0][:, days + ahead]
        assert error.std() == pytest.approx(pair.known.spread[ahead], rel=0.12)


def test_expected_frosted_nights_agree_with_what_came(springs):
    drawn = forecasts(springs, np.random.default_rng(3))
    pairs = pairs_of(springs)
    stood = standing(springs, drawn, pairs)
    said = stood.costs[0, 1][:, 20:80, 0]
    first = springs.lows[0][:, 20:80] <= 0
    sure = np.isfinite(said)
    assert said[sure].mean() == pytest.approx(
        (first + _later(springs, stood))[sure].mean(), rel=0.08
    )


def _later(springs, stood):
    from exchange.domain.posting.replay.process import in_transit

    still, days = in_transit(), np.arange(20, 80)
    found = np.zeros((len(springs.years), len(days)))
    for night in range(1, still.shape[1]):
        frost = springs.lows[1][:, days + night] <= 0
        found += still[stood.weekdays[:, days], night] * frost
    return found


def test_sundays_cost_without_end(springs):
    pair = pairs_of(springs)[0]
    costs = frosted(pair, np.zeros((1, 28)), np.array([40]), np.array([4]))
    assert np.isinf(costs[0, 2])
    assert np.isfinite(costs[0, [0, 1, 3]]).all()


def test_waiting_is_worth_more_than_the_best_day_open_says(springs):
    """The dynamic program may only lower the cost of waiting, and must do so somewhere."""
    pairs = pairs_of(springs)
    drawn = draw(pairs, np.random.default_rng(4))
    worth = fit(pairs, drawn, 0.05)
    costs = drawn[0].costs[:, 20]
    rows = (drawn[0].weekdays + 34) % 7 == 1
    usual = np.full(rows.sum(), worth.usual[0, 1][34])
    open_loop = best_open(costs[rows], 0.05, usual)
    fitted = worth.waiting((0, 1), costs[rows], (34, 1))
    assert (fitted <= np.maximum(open_loop, 0.05) + 1e-12).all()
    assert fitted.mean() < 0.97 * open_loop.mean()


def test_near_the_last_day_only_the_days_left_count():
    costs = np.array([[0.5, 0.4, np.inf, 0.0, 0, 0, 0, 0, 0]])
    usual = np.array([0.0])
    assert best_open(costs, 0.01, usual, np.array([1]))[0] == pytest.approx(0.41)
    assert best_open(costs, 0.01, usual, np.array([2]))[0] == pytest.approx(0.03)
    assert np.isinf(best_open(costs, 0.01, usual, np.array([0]))[0])
