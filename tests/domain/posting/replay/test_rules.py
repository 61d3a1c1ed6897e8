from dataclasses import replace

import numpy as np
import pytest

from exchange.domain.posting.announced import WeighedDays, free_days, judge, nearer
from exchange.domain.posting.choose_days import MOST_LATE, PLANT, RISK
from exchange.domain.posting.replay import rules
from exchange.domain.posting.replay.losses import FIRST_EVENING, TERMS
from exchange.domain.posting.replay.springs import (
    DAYS,
    KNOWN_BEFORE,
    MOST_WAIT,
    READY,
    READY_WITHIN,
    past_springs,
)
from tests.builders.springs import daily_minima

MON_TO_WED = frozenset({0, 1, 2})
EVENINGS = KNOWN_BEFORE + READY_WITHIN + MOST_WAIT


@pytest.fixture(scope="module")
def springs():
    return past_springs(daily_minima(years=range(2001, 2005)))


@pytest.fixture(scope="module")
def sent(springs):
    return rules.parcels(springs, MON_TO_WED)


def one_by_one(sent, weighed, index):
    """Practise the announcing for one parcel by the planner's own functions; give its day and its moves."""
    rule, last = TERMS.announcing, int(sent.last()[index])
    told, moves = None, 0
    for evening in range(int(sent.ready[index]) - KNOWN_BEFORE, last):
        losses = weighed[evening - FIRST_EVENING, sent.spring[index], sent.pair[index]]
        days = evening + np.arange(len(losses))
        shut = (days < sent.ready[index]) | (
            (sent.springs.weekdays[sent.spring[index]] + days) % 7 > 2
        )
        look = WeighedDays(losses, shut, TERMS.loss_limit)
        free, start = free_days(told, look, rule), max(int(sent.ready[index]), evening)
        good, waited = free & (losses <= TERMS.loss_limit), np.maximum(days - start, 0)
        soon = np.flatnonzero(free & (days - start <= TERMS.longest_wait))
        asked = evening + 1 - int(sent.ready[index]) >= TERMS.longest_wait
        if asked and soon.size and losses[soon].min() > TERMS.loss_limit:
            best = np.flatnonzero(losses == losses[soon].min())
            good = np.isin(np.arange(len(losses)), best) & np.isin(np.arange(len(losses)), soon)
        cost = [
            RISK * round(PLANT * (loss + TERMS.waiting_price * wait)) + min(wait, MOST_LATE)
            for loss, wait in zip(losses.tolist(), waited.tolist(), strict=True)
        ]
        ahead = min(np.flatnonzero(good), key=lambda day: cost[day]) if good.any() else None
        verdict = judge(told, look, None if ahead is None else int(ahead), rule)
        moves += told is not None and verdict.told != told
        told = verdict.told
        if told is not None and told.ahead == 1:
            return evening + 1, moves, told.loss > TERMS.loss_limit
        told = nearer(told)
    return last, moves, True


MIXED = (0.002, 0.01, 0.024, 0.045, 0.049, 0.06, 0.074, 0.0752, 0.3)
MOSTLY_BAD = (*(0.06, 0.074, 0.0752, 0.09, 0.11, 0.3) * 5, 0.049)


@pytest.mark.parametrize(("drawn", "taken"), [(MIXED, 0), (MOSTLY_BAD, 30)])
def test_the_announcing_is_the_planner_s_on_random_losses(springs, sent, drawn, taken):
    """Where good days are rare, many parcels take the best of bad ones after the longest wait."""
    chance = np.random.default_rng(3)
    weighed = chance.choice(drawn, (EVENINGS, len(springs.years), 2, TERMS.horizon))

    done = rules.ours(sent, weighed)

    sample = chance.choice(len(sent.ready), 150, replace=False)
    alone = [one_by_one(sent, weighed, index) for index in sample]
    assert done.posted[sample].tolist() == [day for day, _, _ in alone]
    assert done.moves[sample].tolist() == [moves for _, moves, _ in alone]
    assert done.forced[sample].tolist() == [forced for _, _, forced in alone]
    assert done.moves[sample].sum() > 50
    assert (done.forced & (done.posted < sent.last()))[sample].sum() >= taken


def test_the_best_of_bad_days_is_taken_only_after_the_longest_wait(springs, sent):
    """Every day over the limit, and the last Monday before the wait ends the least risky of all."""
    weighed = np.full((EVENINGS, len(springs.years), 2, TERMS.horizon), 0.5)

    done = rules.ours(sent, weighed)
    waited = done.posted - sent.ready

    assert done.forced.all()
    assert (waited >= TERMS.longest_wait).all()
    assert (waited < TERMS.longest_wait + 7).all()
    assert np.isin(sent.weekday(done.posted), list(MON_TO_WED)).all()


def test_a_good_day_within_reach_is_waited_for_rather_than_a_bad_one_taken(sent):
    one = _first(sent)
    evening, until = one.ready + TERMS.longest_wait, TERMS.longest_wait
    losses = np.full((1, TERMS.horizon), 0.4)
    open_days = np.flatnonzero(one.may_go(evening[:, None] + np.arange(TERMS.horizon))[0])
    soon = [day for day in open_days if 0 < day <= until]
    losses[0, soon[0]] = 0.06
    nothing = np.zeros(1, dtype=np.int64), np.zeros(1)

    taken = rules.judged(one, evening, losses, nothing, TERMS)
    losses[0, soon[-1]] = 0.01
    waits = rules.judged(one, evening, losses, nothing, TERMS)

    assert soon[0] <= TERMS.announced_days < soon[-1]
    assert (taken[0], taken[1]) == ([soon[0]], [0.06])
    assert waits[0] == [0]


def test_a_day_announced_stands_until_it_is_half_as_risky_again_as_the_limit(sent):
    one = _first(sent)
    told = np.array([3]), np.array([0.03])
    losses = np.full((1, TERMS.horizon), 0.4)

    held, left = losses.copy(), losses.copy()
    held[0, 3], left[0, 3] = 0.074, 0.081

    assert rules.judged(one, _monday_three_days_on(one), held, told, TERMS)[0] == [3]
    assert rules.judged(one, _monday_three_days_on(one), left, told, TERMS)[0] == [0]


def test_a_parcel_whose_good_day_never_comes_nearer_goes_on_its_last_posting_day(springs, sent):
    """Ten days ahead all is good, evening after evening; nearer nothing is."""
    weighed = np.full((EVENINGS, len(springs.years), 2, TERMS.horizon), 0.5)
    weighed[..., 7:14] = 0.01

    done = rules.ours(sent, weighed)

    assert done.forced.all()
    assert (done.posted == sent.last()).all()
    assert (done.posted - sent.ready <= MOST_WAIT).all()
    assert np.isin(sent.weekday(done.posted), list(MON_TO_WED)).all()


def test_there_is_a_parcel_for_each_spring_pair_and_day_of_readiness(springs, sent):
    assert len(sent.ready) == len(springs.years) * 2 * READY_WITHIN
    assert (sent.ready.min(), sent.ready.max()) == (READY, READY + READY_WITHIN - 1)


@pytest.mark.parametrize("name", rules.THUMBS)
def test_a_rule_of_thumb_posts_on_the_first_posting_day_after_a_warm_forecast(springs, sent, name):
    chance = np.random.default_rng(4)
    drawn = chance.normal(2.0, 3.0, (2, len(springs.years), DAYS, 10))

    done = rules.thumb(sent, rules.coldest(sent, drawn, name), 1.0)

    here, there = rules.THUMBS[name]
    ends = [(0, 1), (1, 0)]
    for index in chance.choice(len(sent.ready), 100, replace=False):
        sender, receiver = ends[sent.pair[index]]
        spring, day, last = sent.spring[index], sent.ready[index], sent.last()[index]
        while day < last:
            on = (springs.weekdays[spring] + day) % 7
            warm = drawn[sender, spring, day - 1, here].min() > 1.0
            warm &= drawn[receiver, spring, day - 1, there].min() > 1.0
            if on <= 2 and warm:
                break
            day += 1
        assert done.posted[index] == day
    assert not done.moves.any()


def _first(sent):
    columns = ("spring", "pair", "ready")
    return replace(sent, **{name: getattr(sent, name)[:1] for name in columns})


def _monday_three_days_on(one):
    return one.ready + (7 - one.weekday(one.ready)) - 3 + 7
