import pytest

from exchange.domain.weather.traces import half_wave


def test_a_half_wave_reaches_both_ends():
    assert half_wave(8.0, -3.0, 0.0) == pytest.approx(8.0)
    assert half_wave(8.0, -3.0, 0.5) == pytest.approx(2.5)
    assert half_wave(8.0, -3.0, 1.0) == pytest.approx(-3.0)
