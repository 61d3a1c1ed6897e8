"""Futures are the members of an ensemble where there is one, and the nights drawn as before elsewhere."""

from dataclasses import replace

import numpy as np
import pytest

from exchange.domain.posting.exposure import DAY_ERROR_SHARE, WARMEST_HOUR, air
from exchange.domain.posting.futures import chosen_members
from exchange.domain.posting.injury import Tolerance, curves
from exchange.domain.posting.risk import risk_table
from exchange.domain.posting.scenarios import NIGHT_CORRELATION, night_errors
from exchange.domain.weather.blend import of_members
from tests.builders.posting import MONDAY, an_outlook
from tests.builders.risk import a_question, journeys
from tests.builders.scalar_risk import scalar_means

SITE_K = 0.674
FUTURES, DAYS = 24, 12
HARDY = curves(Tolerance((-1.0, -2.0), (50.0, 60.0), (90.0, 99.0)))


def told(place_id, courses, *, site_k=SITE_K, numbers=(), later_c=8.0):
    """Tell the first nights by members, one course of minima each; the later ones by a normal."""
    outlook = an_outlook(place_id, means=later_c, sd=2.0, first=MONDAY, nights=DAYS)
    laid = list(outlook.nights)
    for index, every in enumerate(zip(*courses, strict=True)):
        there = {
            n: c for n, c in zip(numbers or range(len(every)), every, strict=True) if c is not None
        }
        mean, spread = of_members(tuple(there.values()), site_k)
        laid[index] = replace(
            laid[index],
            mean_c=mean,
            sd_c=spread,
            day_high_c=mean + 7,
            members=tuple(there.values()),
            numbers=tuple(there),
        )
    return replace(outlook, nights=tuple(laid))


def minority(cold, members, *, place_id=7, nights=6, **more):
    """Let members at even steps be cold on every night, the others mild."""
    courses = [(-6.0 if n * cold % members < cold else 10.0,) * nights for n in range(members)]
    return told(place_id, courses, **more)


def a_mixed_ensemble(place_id=7, *, members=24, nights=6, shift=0.0, **more):
    rng = np.random.default_rng(5)
    courses = rng.normal(3.0, 3.0, (members, 1)) + rng.normal(0.0, 1.0, (members, nights))
    return told(place_id, (courses + shift).tolist(), **more)


def drawn(*outlooks, futures=FUTURES):
    return air({one.place_id: one for one in outlooks}, MONDAY, DAYS, futures)


def without_members(outlook):
    return replace(outlook, nights=tuple(replace(one, members=()) for one in outlook.nights))


@pytest.mark.parametrize(("members", "cold"), [(8, 2), (20, 5), (24, 6), (40, 10), (40, 5)])
def test_a_cold_minority_has_its_share_of_the_futures(members, cold):
    share = (drawn(minority(cold, members)).lows[0, :6] < 0).mean(axis=1)
    assert share == pytest.approx([cold / members] * 6, abs=0.5 / FUTURES)


def test_a_cold_minority_gives_that_share_of_losses_where_a_normal_would_not():
    def lost(outlook):
        question = replace(
            a_question(places=2, days=3, most_after=3),
            air=drawn(outlook),
            sheltered=np.full((1, DAYS, FUTURES), 15.0),
        )
        plain = journeys(1, places=2)[0]
        one = replace(plain, sender=0, receiver=0, through=None, tau_h=0.5, latent_k=0.0)
        one = replace(one, shelter=0, depot_offset_c=0.0, kinds=(HARDY,))
        return risk_table([one], question).loss[0][0, :, 2]

    ensemble = minority(5, 20, nights=DAYS)
    assert lost(ensemble) == pytest.approx([0.25] * 3, abs=0.01)
    assert (np.abs(lost(without_members(ensemble)) - 0.25) > 0.02).all()


def test_a_future_keeps_its_member_from_night_to_night_and_from_place_to_place():
    here, there = a_mixed_ensemble(7), a_mixed_ensemble(8, shift=-4.0)
    lows = drawn(here, there).lows
    courses = np.array([night.members for night in here.nights[:6]])
    of_future = chosen_members({7: here, 8: there}, FUTURES)
    assert of_future[7] == of_future[8] == list(range(24))
    assert np.abs(lows[0, :6] - courses).max() < 4 * SITE_K
    assert np.corrcoef(lows[0, 0], lows[0, 5])[0, 1] > 0.75
    assert np.corrcoef(lows[0, 3], lows[1, 3])[0, 1] > 0.95


def test_members_are_known_by_their_numbers_where_one_is_missing_on_a_night():
    rows = np.linspace(1.0, 12.0, 24)[:, None] + np.zeros((24, 6))
    courses = rows.tolist()
    courses[2][3] = None
    lows = drawn(told(7, courses)).lows[0]
    others = [n for n in range(24) if n != 2]
    assert np.abs(lows[3, others] - rows[others, 3]).max() < 4 * SITE_K
    assert np.isfinite(lows).all()


def test_a_place_has_the_same_futures_whichever_places_are_asked_for():
    circle = {7: a_mixed_ensemble(7, members=40), 8: minority(10, 40, place_id=8)}
    alone = air({7: circle[7]}, MONDAY, DAYS, FUTURES, circle)
    both = air(circle, MONDAY, DAYS, FUTURES)
    assert (alone.lows[0] == both.lows[0]).all()


@pytest.mark.parametrize("site_k", [0.0, 0.674, 2.0])
def test_the_error_of_the_site_widens_what_the_members_say(site_k):
    ensemble = a_mixed_ensemble(site_k=site_k)
    lows = drawn(ensemble).lows[0, :6]
    variance = np.array([np.var(night.members) for night in ensemble.nights[:6]])
    assert lows.std(axis=1) == pytest.approx(np.sqrt(variance + site_k**2), rel=1e-9)
    assert lows.mean(axis=1) == pytest.approx([one.mean_c for one in ensemble.nights[:6]])


def test_the_night_after_the_ensemble_goes_on_from_each_member_s_last():
    steady = told(7, (np.linspace(-3.0, 9.0, 100)[:, None] + np.zeros((100, 6))).tolist())
    lows = drawn(steady, futures=100).lows[0]
    assert np.corrcoef(lows[5], lows[6])[0, 1] == pytest.approx(NIGHT_CORRELATION, abs=0.1)
    assert np.sort(lows[6]) == pytest.approx(np.sort(8.0 + 2.0 * night_errors(7, 100)[6]))


def test_days_are_warmer_in_warmer_futures():
    ensemble = a_mixed_ensemble()
    seen = drawn(ensemble)
    middle = np.array([[night.mean_c] for night in ensemble.nights])
    highs = middle + 7 + DAY_ERROR_SHARE * (seen.lows[0] - middle)
    assert seen.hourly[WARMEST_HOUR, 0] == pytest.approx(np.maximum(highs[:DAYS], seen.lows[0]))


def test_places_without_members_have_the_very_numbers_they_had():
    plain = an_outlook(9, means=[3, 5, 1], sd=1.7, first=MONDAY, nights=DAYS)
    want = np.array([[night.mean_c] for night in plain.nights])
    want = want + 1.7 * night_errors(DAYS, FUTURES)
    assert (drawn(plain).lows[0] == want).all()
    assert (drawn(a_mixed_ensemble(7), plain).lows[1] == want).all()
    assert (drawn(without_members(a_mixed_ensemble(9)), plain).lows[0] == want).all()


def test_the_table_agrees_with_the_plain_loop_on_an_ensemble():
    places = [a_mixed_ensemble(0, nights=DAYS), minority(5, 20, place_id=1, nights=DAYS)]
    base = a_question(places=2, days=3, most_after=3)
    question = replace(base, air=drawn(*places, futures=20), sheltered=base.sheltered[:, :DAYS])
    parcels = journeys(8, places=2)
    table = risk_table(parcels, question)
    hourly = question.air.hourly.tolist()
    for number, journey in enumerate(parcels):
        for after, means in scalar_means(journey, question, hourly, 1).items():
            assert table.loss[number][:, 1, after] == pytest.approx(means, abs=1e-9)
