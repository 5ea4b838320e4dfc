"""Cengel and Cimbala, Fluid Mechanics, 2006: example 8-3, and the pump of a problem of chapter 14.

Obtained: both read word for word on public pages, but for their last lines: the friction factor is the root of the
equation printed there, and the pump's answer the arithmetic of the curves printed there.
"""

import pytest

from tlib import hydraulics


@pytest.mark.evidence("published", "hydraulics.friction_factor")
def test_example_8_3_water_in_a_steel_pipe():
    """0.2 ft3/s through 2 in: 9.17 ft/s, Re 126,400, roughness 0.000042; the equation printed gives f = 0.0174."""
    speed = 0.2 / (3.14159 * (2 / 12) ** 2 / 4)
    assert speed == pytest.approx(9.17, abs=5e-3)
    assert 62.36 * speed * (2 / 12) / 7.536e-4 == pytest.approx(126.4e3, rel=5e-4)
    assert hydraulics.friction_factor(126.4e3, 0.000042) == pytest.approx(0.0174, abs=5e-5)


@pytest.mark.evidence("published", "hydraulics.pump_pressure", "hydraulics.operating_flow")
def test_pump_between_two_reservoirs():
    """Pump 7.46 m - 0.0453 q2, circuit 3.52 m + 0.0261 q2 (q in l/min): they cross at 7.43 l/min and 4.96 m.

    The lift is taken off the pump's shut-off head, which leaves the crossing where it was.
    """
    lift, shut_off, pump, circuit = 3.52, 7.46, 0.0453, 0.0261
    above_the_lift = {"shut_off": shut_off - lift, "greatest_flow": ((shut_off - lift) / pump) ** 0.5}
    flow = hydraulics.operating_flow(resistance=circuit, **above_the_lift)
    assert flow == pytest.approx(7.43, abs=5e-3)
    assert lift + hydraulics.pump_pressure(flow, **above_the_lift) == pytest.approx(4.96, abs=5e-3)
