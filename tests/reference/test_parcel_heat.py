"""The warmth inside a parcel against its closed form, published material values and scipy's ODE solver."""

import math

import numpy as np
import pytest
from scipy.integrate import solve_ivp

from exchange.domain.posting.heat import core, damp_step
from tests.builders.scalar_risk import plain_hour


def solved(ambient, start, hours, tau):
    """Solve m c dT/dt = UA (Ta - T) numerically (scipy, Runge-Kutta 5(4))."""
    found = solve_ivp(lambda _, T: (ambient - T) / tau, (0, hours), [start], rtol=1e-10, atol=1e-11)
    return float(found.y[0, -1])


@pytest.mark.parametrize(("hours", "value"), [(4, 5.3575888), (8, 0.7067057)])
def test_constant_ambient(hours, value):
    """T = Ta + (T0 - Ta) exp(-t / tau), tau 4 h, from 18 C into -2 C."""
    heat = np.array([18.0])
    for _ in range(hours):
        heat = damp_step(heat, np.array([-2.0]), 4.0, 0.0)

    assert float(heat[0]) == pytest.approx(value, abs=5e-8)
    assert solved(-2, 18, hours, 4) == pytest.approx(value, abs=1e-6)


def test_an_hour_is_exact_where_a_plain_difference_step_is_not():
    assert math.exp(-1 / 4) == pytest.approx(0.7788008, abs=5e-8)
    assert plain_hour(18.0, -2.0, 4.0, 0.0) == pytest.approx(-2 + 20 * 0.7788008, abs=1e-6)
    assert plain_hour(18.0, -2.0, 4.0, 0.0) != pytest.approx(18 - 20 / 4, abs=0.1)


@pytest.mark.parametrize(("resistance", "hours"), [(0.979, 23.36), (3.061, 7.48)])
def test_two_hundred_grams_of_water_hold_the_freezing_point(resistance, hours):
    """t = m L / (UA (0 - Ta)): 200 g, 333.55 kJ/kg, A 0.27 m2, -3 C.

    U 0.979 W/m2K with 25 mm of foam, 3.061 W/m2K with plain board: from board 0.06 W/mK, foam
    0.036 W/mK and surface resistances of 0.13 m2K/W (ISO 6946).
    """
    heat_capacity = 1000 * 3.3e3 / 1000  # J/K, cancels
    tau = heat_capacity / (resistance * 0.27) / 3600
    latent = 0.2 * 333_550 / heat_capacity
    heat, held = np.array([0.0]), 0
    while float(core(heat, latent)[0]) == 0.0:
        before, heat = heat, damp_step(heat, np.array([-3.0]), tau, latent)
        held += 1

    # within its last hour the wrap freezes what is left at the same rate
    last = float(before[0] + latent) / (3.0 / tau)
    assert held - 1 + last == pytest.approx(hours, abs=0.01)


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
