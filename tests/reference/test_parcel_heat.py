"""The warmth inside a parcel against closed forms, published material values and scipy's ODE solver."""

import math

import numpy as np
import pytest
from scipy.integrate import solve_ivp

from exchange.domain.posting.heat import (
    after_constant,
    after_ramp,
    after_sine,
    core,
    daily_wave,
    damp_step,
    plateau_hours,
)
from tests.builders.scalar_risk import plain_hour


def solved(ambient, start, hours, tau):
    """Solve m c dT/dt = UA (Ta - T) numerically (scipy, Runge-Kutta 5(4))."""
    found = solve_ivp(
        lambda t, T: (ambient(t) - T) / tau, (0, hours), [start], rtol=1e-10, atol=1e-11
    )
    return float(found.y[0, -1])


@pytest.mark.parametrize(
    ("hours", "value"), [(4, 5.3575888), (8, 0.7067057), (4 * math.log(10), 0.0)]
)
def test_constant_ambient(hours, value):
    """T = Ta + (T0 - Ta) exp(-t / tau), tau 4 h, from 18 C into -2 C."""
    assert after_constant(18, -2, hours, 4) == pytest.approx(value, abs=5e-8)
    assert solved(lambda _: -2, 18, hours, 4) == pytest.approx(value, abs=1e-6)


def test_an_hour_is_exact_where_a_plain_difference_step_is_not():
    assert math.exp(-1 / 4) == pytest.approx(0.7788008, abs=5e-8)
    assert plain_hour(18.0, -2.0, 4.0, 0.0) == pytest.approx(after_constant(18, -2, 1, 4))
    assert plain_hour(18.0, -2.0, 4.0, 0.0) != pytest.approx(18 - 20 / 4, abs=0.1)


@pytest.mark.parametrize(("hours", "value"), [(6, 8.2231302), (12, 2.0497871)])
def test_falling_ambient(hours, value):
    """T = A0 + a (t - tau) + (T0 - A0 + a tau) exp(-t / tau), from 15 C, 10 C falling 1 K an hour."""
    assert after_ramp(15, (10, -1), hours, 4) == pytest.approx(value, abs=5e-8)
    assert solved(lambda t: 10 - t, 15, hours, 4) == pytest.approx(value, abs=1e-6)


def test_in_a_long_fall_the_core_lags_by_its_time_constant():
    assert after_ramp(15, (10, -1), 80, 4) - (10 - 80) == pytest.approx(4, abs=1e-6)


@pytest.mark.parametrize(("hours", "value"), [(6, 11.2691438), (18, 1.3064915), (36, 8.9971071)])
def test_daily_sine(hours, value):
    """Middle 5 C, swing 8 K, tau 4 h, from 12 C."""
    assert after_sine(12, (5, 8), hours, 4) == pytest.approx(value, abs=5e-8)
    wave = solved(lambda t: 5 + 8 * math.sin(2 * math.pi * t / 24), 12, hours, 4)
    assert wave == pytest.approx(value, abs=1e-6)


@pytest.mark.parametrize(
    ("tau", "gain", "lag"),
    [
        (1, 0.9674, 0.978),
        (2, 0.8859, 1.842),
        (4, 0.6906, 3.088),
        (6, 0.5370, 3.835),
        (8, 0.4309, 4.298),
        (12, 0.3033, 4.823),
    ],
)
def test_gain_and_lag_of_the_daily_wave(tau, gain, lag):
    found = daily_wave(tau)
    assert found[0] == pytest.approx(gain, abs=5e-5)
    assert found[1] == pytest.approx(lag, abs=5e-4)


def test_the_steady_minimum_stays_above_that_of_the_air():
    assert 5 - 8 * daily_wave(4)[0] == pytest.approx(-0.5249690, abs=5e-8)
    late = [after_sine(12, (5, 8), 240 + step / 50, 4) for step in range(1200)]
    assert min(late) == pytest.approx(-0.5249690, abs=1e-4)


@pytest.mark.parametrize(("resistance", "hours"), [(0.979, 23.36), (3.061, 7.48)])
def test_two_hundred_grams_of_water_hold_the_freezing_point(resistance, hours):
    """t = m L / (UA (0 - Ta)): 200 g, 333.55 kJ/kg, A 0.27 m2, -3 C.

    U 0.979 W/m2K with 25 mm of foam, 3.061 W/m2K with plain board: from board 0.06 W/mK, foam
    0.036 W/mK and surface resistances of 0.13 m2K/W (ISO 6946).
    """
    heat_capacity = 1000 * 3.3e3 / 1000  # J/K, cancels
    tau = heat_capacity / (resistance * 0.27) / 3600
    latent = 0.2 * 333_550 / heat_capacity
    assert plateau_hours(latent, -3, tau) == pytest.approx(hours, abs=0.01)
    assert plateau_hours(latent, 0.5, tau) == math.inf


def frozen_by_solver(start, ambients, tau, latent):
    """Solve the heat content through freezing numerically, an hour at a time."""
    heat = start
    for ambient in ambients:

        def flow(_, content, ambient=ambient):
            temperature = max(content[0], 0) + min(content[0] + latent, 0)
            return [(ambient - temperature) / tau]

        found = solve_ivp(flow, (0, 1), [heat], rtol=1e-9, atol=1e-10, max_step=0.01)
        heat = float(found.y[0, -1])
    return heat


@pytest.mark.parametrize("latent", [3.0, 45.0])
def test_freezing_and_thawing_agree_with_an_ode_solver(latent):
    ambients = [-4.0] * 10 + [-9.0] * 4 + [2.0] * 6 + [0.0, 8.0, 12.0, -1.0]
    heat = np.array([5.0])
    for step, ambient in enumerate(ambients):
        heat = damp_step(heat, np.array([ambient]), 2.4, latent)
        if step % 8 == 7:
            solver = frozen_by_solver(5.0, ambients[: step + 1], 2.4, latent)
            assert float(heat[0]) == pytest.approx(solver, abs=2e-5)


def test_the_vector_step_is_the_plain_step_in_every_phase():
    rng = np.random.default_rng(4)
    heat, ambient = rng.uniform(-60, 20, 4000), rng.uniform(-15, 15, 4000)
    heat[:40], ambient[40:80] = 0.0, 0.0
    heat[80:120] = -45.0
    ours = damp_step(heat, ambient, 2.4, 45.0)
    plain = [plain_hour(h, a, 2.4, 45.0) for h, a in zip(heat, ambient, strict=True)]
    assert ours == pytest.approx(np.array(plain), abs=1e-9)


def test_the_core_is_at_freezing_point_while_ice_forms():
    found = core(np.array([3.0, 0.0, -20.0, -45.0, -47.0]), 45.0)
    assert found.tolist() == [3.0, 0.0, 0.0, 0.0, -2.0]
