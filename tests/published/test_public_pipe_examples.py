"""Worked examples and tables of pipes and valves on public pages.

Water of a 10 mm pipe: a textbook's examples 4.1 and 4.2, read in a public transcription of its sums. Kv: a worked
example and the water table of a public engineering reference. Fittings: a worked example with its own coefficients.
Grade A unless said.
"""

import pytest

from tlib import hydraulics

TEN_MILLIMETRE_PIPE = [
    # speed / (m/s), temperature / °C, density / (kg/m3), drop over 3 m / Pa, tolerance
    (0.2, 10.0, 999.7, 250.68, 0.002),  # laminar, Re 1531; the book's viscosity is 1.306e-6 m2/s
    (0.2, 80.0, 971.8, 214.16, 0.015),  # turbulent, Re 5480, by Blasius, which lies 0.7 % under Colebrook here
]
KV_TABLE = [
    # flow / (kg/s), pressure drop / kPa, Kv as printed
    (0.1, 10, 1.14), (0.2, 10, 2.28), (0.5, 10, 5.69), (1.0, 10, 11.38), (0.1, 100, 0.36), (0.3, 5, 4.83),
    (0.4, 20, 3.22), (0.05, 1, 1.8), (1.0, 1, 36.0), (0.5, 300, 1.04), (10.0, 1, 360.0), (3.0, 2, 76.37),
]  # fmt: skip


@pytest.mark.evidence("published", "hydraulics.pressure_drop")
@pytest.mark.parametrize(("speed", "temperature", "density", "drop", "tolerance"), TEN_MILLIMETRE_PIPE)
def test_water_in_a_smooth_10_mm_pipe(speed, temperature, density, drop, tolerance):
    flow = density * speed * 3.14159 * 0.01**2 / 4
    ours = hydraulics.pressure_drop(flow, 0.01, 3.0, temperature=temperature, roughness=0.0)
    assert ours == pytest.approx(drop, rel=tolerance)


@pytest.mark.evidence("published", "hydraulics.water_speed", "hydraulics.reynolds_number")
def test_speed_and_reynolds_number_of_the_same_pipe():
    flow = 999.7 * 0.2 * 3.14159 * 0.01**2 / 4
    assert hydraulics.water_speed(flow, 0.01, 10.0) == pytest.approx(0.2, rel=1e-4)
    assert hydraulics.reynolds_number(flow, 0.01, 10.0) == pytest.approx(0.2 * 0.01 / 1.306e-6, rel=1e-3)


@pytest.mark.evidence("published", "hydraulics.valve_coefficient", "hydraulics.valve_drop", "hydraulics.valve_flow")
def test_twenty_cubic_metres_at_four_bar_need_kv_10():
    assert hydraulics.valve_coefficient(20 / 3600, 4e5) == pytest.approx(10.0, abs=1e-6)
    assert hydraulics.valve_drop(20 / 3600, 10.0) == pytest.approx(4e5, rel=1e-9)
    assert 3600 * hydraulics.valve_flow(4e5, 10.0) == pytest.approx(20.0, rel=1e-9)


@pytest.mark.evidence("published", "hydraulics.valve_coefficient")
@pytest.mark.parametrize(("flow", "kilopascal", "kv"), KV_TABLE)
def test_kv_table_for_water(flow, kilopascal, kv):
    last_digit = 0.005 if kv < 100 else 0.5
    assert hydraulics.valve_coefficient(flow / 1000, 1000 * kilopascal) == pytest.approx(kv, abs=last_digit + 1e-9)


@pytest.mark.evidence("published", "hydraulics.valve_coefficient")
def test_kv_example_of_3000_kilograms_an_hour():
    assert hydraulics.valve_coefficient(3000 / 3600 / 1000, 3e5) == pytest.approx(1.73, abs=5e-3)


@pytest.mark.evidence("published", "hydraulics.fittings_resistance")
def test_fittings_of_a_worked_example():
    """Two 45° elbows at 0.4, two screwed elbows at 1.5, a sharp entry 0.5, an exit 1: 5.3 (its valve left out)."""
    fittings = {"45° bend": 2, "elbow": 2, "sharp entry": 1, "exit": 1}
    assert hydraulics.fittings_resistance(fittings) == pytest.approx(5.3, abs=1e-9)


@pytest.mark.evidence("published", "hydraulics.pump_power", "hydraulics.flow_for_power")
def test_pump_power_and_flow_by_definition():
    """Definitions with numbers by arithmetic. Grade B."""
    assert hydraulics.pump_power([1 / 3600, 1.5 / 3600], [30e3, 40e3]) == pytest.approx([8.33, 16.67], abs=5e-3)
    assert hydraulics.flow_for_power(20e3, 20.0) == pytest.approx(0.2388, rel=1e-3)
