"""Moist air against FAO Paper 56 and the package psychrolib (ASHRAE Handbook 2017)."""

import psychrolib
import pytest

from exchange.domain.weather.psychro import (
    air_pressure,
    dew_point,
    dew_point_of,
    vapour_from_wet_bulb,
    vapour_pressure,
    wet_bulb,
)

# FAO-56 table 2.3 (from memory; agrees with equation 11), e°(T) in kPa
TABLE_2_3 = [
    (1, 0.657),
    (5, 0.872),
    (10, 1.228),
    (15, 1.705),
    (20, 2.338),
    (25, 3.168),
    (30, 4.243),
    (40, 7.376),
]


@pytest.fixture(autouse=True)
def _si_units():
    psychrolib.SetUnitSystem(psychrolib.SI)


@pytest.mark.parametrize(("temperature", "pressure"), TABLE_2_3)
def test_vapour_pressures_of_fao_56_table_2_3(temperature, pressure):
    assert vapour_pressure(temperature) == pytest.approx(pressure, abs=0.0006)


def test_vapour_pressures_of_fao_56_example_3():
    # ncl.ucar.edu satvpr_temp_fao56, quoting FAO-56 example 3: 15 C 1.705, 24.5 C 3.075, mean 2.39
    assert vapour_pressure(15.0) == pytest.approx(1.705, abs=0.0005)
    assert vapour_pressure(24.5) == pytest.approx(3.075, abs=0.0005)
    assert (vapour_pressure(15.0) + vapour_pressure(24.5)) / 2 == pytest.approx(2.39, abs=0.005)


def test_wet_and_dry_thermometers_of_fao_56_example_4():
    # from memory: dry 25.6, wet 19.5, 1200 m, pressure 87.9 kPa, vapour pressure 1.91 kPa
    assert air_pressure(1200.0) == pytest.approx(87.9, abs=0.05)
    assert vapour_from_wet_bulb(25.6, 19.5, 87.9) == pytest.approx(1.91, abs=0.005)


def test_humidity_extremes_of_fao_56_example_5():
    # from memory: 18 to 25 C, 82 to 54 %: 1.70 kPa
    mean = (vapour_pressure(18.0) * 0.82 + vapour_pressure(25.0) * 0.54) / 2

    assert mean == pytest.approx(1.70, abs=0.005)


@pytest.mark.parametrize("temperature", [1.0, 5.0, 10.0, 15.0, 20.0, 25.0, 30.0])
def test_vapour_pressure_over_water_agrees_with_psychrolib(temperature):
    expected = psychrolib.GetSatVapPres(temperature) / 1000.0

    assert vapour_pressure(temperature) == pytest.approx(expected, rel=0.001)


@pytest.mark.parametrize(("temperature", "humidity"), [(25, 54), (20, 50), (10, 80), (5, 90)])
def test_dew_point_and_wet_bulb_agree_with_psychrolib(temperature, humidity):
    dew = psychrolib.GetTDewPointFromRelHum(temperature, humidity / 100.0)
    wet = psychrolib.GetTWetBulbFromRelHum(temperature, humidity / 100.0, 101_325.0)

    assert dew_point_of(temperature, humidity) == pytest.approx(dew, abs=0.15)
    assert wet_bulb(temperature, humidity) == pytest.approx(wet, abs=0.15)


@pytest.mark.parametrize("temperature", [-20.0, -5.0, 0.0, 12.3, 35.0])
def test_dew_point_of_saturated_air_is_its_temperature(temperature):
    assert dew_point(vapour_pressure(temperature)) == pytest.approx(temperature, abs=1e-9)


def test_below_freezing_the_dew_point_is_over_water_not_ice():
    # over ice (psychrolib) the pressure at -10 C is 0.2599 kPa, over water (equation 11) 0.2857
    assert vapour_pressure(-10.0) == pytest.approx(0.2857, abs=0.0001)
    assert psychrolib.GetSatVapPres(-10.0) / 1000.0 == pytest.approx(0.2599, abs=0.0001)


def test_no_vapour_has_no_dew_point():
    with pytest.raises(ValueError, match="positive"):
        dew_point(0.0)
