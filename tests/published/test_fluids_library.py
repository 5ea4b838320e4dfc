"""The library fluids, with properties of the library iapws: friction, valves, bubbles, and circuits solved by scipy.

Obtained: the libraries, run here; numbers of PI-04 to PI-08 were printed by fluids 1.3.1. Grade B.
"""

import fluids
import numpy as np
import pytest
from iapws import IAPWS97
from iapws._iapws import _Tension
from scipy.optimize import brentq

from tlib import hydraulics

MOODY = [(re, rough) for re in (4.1e3, 1e4, 5e4, 1e6, 1e8) for rough in (0.0, 1e-5, 1e-3, 0.05)]
GRADIENTS = [
    # flow / (kg/s), bore / m, gradient / (Pa/m), speed / (m/s): water at 70 °C, 0.3 MPa, roughness 1.5 µm
    (0.1, 0.0136, 449.4, 0.704), (0.2, 0.0136, 1540.9, 1.408), (0.2, 0.0202, 231.4, 0.638), (0.3, 0.0262, 136.9, 0.569),
]  # fmt: skip


def water(celsius):
    return IAPWS97(T=celsius + 273.15, P=0.3)


def drop(flow, bore, length, fittings, celsius, roughness):
    """Pressure drop by fluids' own Colebrook and iapws' own water, turbulent flow only."""
    rho, mu = water(celsius).rho, water(celsius).mu
    speed = flow / (rho * np.pi * bore**2 / 4)
    factor = fluids.Colebrook(rho * speed * bore / mu, roughness / bore)
    return (factor * length / bore + fittings) * rho * speed**2 / 2


@pytest.mark.evidence("published", "hydraulics.friction_factor")
def test_friction_factors_as_printed():
    assert hydraulics.friction_factor([1e5, 1e4, 1e4], [1e-4, 0.0, 0.002]) == pytest.approx(
        [0.0185139, 0.030883, 0.0337937], rel=1e-5
    )
    assert hydraulics.friction_factor(1000.0) == pytest.approx(0.064, rel=1e-12)


@pytest.mark.evidence("published", "hydraulics.friction_factor")
@pytest.mark.parametrize(("reynolds", "rough"), MOODY)
def test_colebrook_over_the_moody_chart(reynolds, rough):
    assert hydraulics.friction_factor(reynolds, rough) == pytest.approx(fluids.Colebrook(reynolds, rough), rel=1e-9)


def test_blasius_lies_within_three_per_cent_of_a_smooth_wall():
    assert hydraulics.friction_factor(1e4) == pytest.approx(0.03164, rel=0.03)


@pytest.mark.evidence("published", "hydraulics.haaland_friction_factor", "hydraulics.swamee_jain_friction_factor")
def test_explicit_factors_as_printed():
    haaland = hydraulics.haaland_friction_factor([1e5, 1e4], [1e-4, 0.002])
    assert haaland == pytest.approx([0.0182651, 0.0335457], rel=1e-5)
    assert hydraulics.swamee_jain_friction_factor(1e5, 1e-4) == pytest.approx(0.0184524, rel=1e-5)


@pytest.mark.evidence("published", "hydraulics.haaland_friction_factor", "hydraulics.swamee_jain_friction_factor")
@pytest.mark.parametrize(("reynolds", "rough"), MOODY)
def test_explicit_factors_over_the_moody_chart(reynolds, rough):
    library = fluids.friction.Haaland(reynolds, rough), fluids.friction.Swamee_Jain_1976(reynolds, rough)
    assert hydraulics.haaland_friction_factor(reynolds, rough) == pytest.approx(library[0], rel=1e-9)
    # the library writes (6.97 / Re)**0.9, which is 5.744 / Re**0.9; we write the paper's 5.74
    assert hydraulics.swamee_jain_friction_factor(reynolds, rough) == pytest.approx(library[1], rel=1e-3)


@pytest.mark.evidence("published", "hydraulics.pressure_drop", "hydraulics.water_speed", "hydraulics.flow_at_drop")
@pytest.mark.parametrize(("flow", "bore", "gradient", "speed"), GRADIENTS)
def test_gradients_in_copper_at_70_degrees(flow, bore, gradient, speed):
    assert hydraulics.pressure_drop(flow, bore, 1.0, temperature=70.0) == pytest.approx(gradient, rel=0.005)
    assert hydraulics.water_speed(flow, bore, 70.0) == pytest.approx(speed, abs=6e-4)
    assert hydraulics.flow_at_drop(gradient, bore, 1.0, temperature=70.0) == pytest.approx(flow, rel=0.003)


@pytest.mark.evidence("published", "hydraulics.reynolds_number")
def test_reynolds_number_by_the_library():
    rho, mu = water(70.0).rho, water(70.0).mu
    speed = 0.2 / (rho * np.pi * 0.0202**2 / 4)
    assert hydraulics.reynolds_number(0.2, 0.0202, 70.0) == pytest.approx(
        fluids.Reynolds(speed, 0.0202, rho, mu), rel=1e-3
    )


@pytest.mark.evidence("published", "hydraulics.valve_resistance")
@pytest.mark.parametrize(("kv", "bore"), [(2.5, 0.0202), (4.0, 0.0202), (10.0, 0.0326)])
def test_kv_as_a_resistance_coefficient(kv, bore):
    """The library's constants are rounded: 1.6e9 for 2 · 3600² · 1e5 / 1000 · (π/4)² = 1.599e9."""
    assert hydraulics.valve_resistance(kv, bore) == pytest.approx(fluids.Kv_to_K(kv, bore), rel=1e-3)


@pytest.mark.evidence("published", "hydraulics.surface_tension")
@pytest.mark.parametrize("celsius", [1.0, 20.0, 60.0, 99.0, 200.0, 360.0])
def test_surface_tension_by_iapws(celsius):
    assert hydraulics.surface_tension(celsius) == pytest.approx(_Tension(celsius + 273.15), rel=1e-9)


@pytest.mark.evidence("published", "hydraulics.self_venting_speed")
@pytest.mark.parametrize("bore", [0.0262, 0.0516, 0.1])
def test_rise_of_a_long_bubble_in_a_wide_pipe(bore):
    """Nicklin, Wilkes and Davidson give 0.35 sqrt(g D) for still water; Viana's fit of all data gives 0.34."""
    little_gas = 1e-9
    area, rho = np.pi * bore**2 / 4, 983.2
    void = fluids.two_phase_voidage.Nicklin_Wilkes_Davidson(little_gas, rho, 1.2, area * 1.2 * 1e-6, bore)
    rise = little_gas * area * 1.2 * 1e-6 / (1.2 * area * void)
    assert hydraulics.self_venting_speed(bore, 60.0) == pytest.approx(rise, rel=0.04)


@pytest.mark.evidence("published", "hydraulics.self_venting_speed")
@pytest.mark.parametrize("bore", [0.0068, 0.0136, 0.0202])
def test_rise_of_a_long_bubble_in_a_narrow_pipe(bore):
    """Viana and others 2003, abstract: Fr = 0.34 / (1 + 3805 / Eo**3.06)**0.58, with the water of iapws."""
    eotvos = 9.81 * IAPWS97(T=333.15, P=0.101325).rho * bore**2 / _Tension(333.15)
    froude = 0.34 / (1 + 3805 / eotvos**3.06) ** 0.58
    assert hydraulics.self_venting_speed(bore, 60.0) == pytest.approx(froude * (9.81 * bore) ** 0.5, rel=1e-3)


@pytest.mark.evidence("published", "hydraulics.pump_flow")
def test_pump_and_pipe_cross_where_scipy_finds_it():
    def left(flow):
        return 40e3 * (1 - (flow / 0.6) ** 2) - drop(flow, 0.0202, 40.0, 20.0, 60.0, 1.5e-6)

    ours = hydraulics.pump_flow(40e3, 0.6, 0.0202, 40.0, 20.0)
    assert ours == pytest.approx(brentq(left, 0.05, 0.6), rel=1e-4)


@pytest.mark.evidence("published", "hydraulics.gravity_flow", "hydraulics.gravity_flow_from")
@pytest.mark.parametrize("power", [1500.0, 3000.0])
def test_gravity_flow_where_scipy_finds_it(power):
    """10 m of 28 mm with K = 12, 2 m high, flow at 85 °C; turbulent, so the library's Colebrook applies."""

    def left(flow):
        back = 85.0 - power / (flow * 4186.8)
        push = 9.81 * 2.0 * (water(back).rho - water(85.0).rho)
        return push - drop(flow, 0.0262, 10.0, 12.0, (85.0 + back) / 2, 1.5e-6)

    expected = brentq(left, 0.03, 0.3)
    back = 85.0 - power / (expected * 4186.8)
    assert hydraulics.gravity_flow_from(power, 85.0, 2.0, 0.0262, 10.0, 12.0) == pytest.approx(expected, rel=1e-3)
    assert hydraulics.gravity_flow(power, back, 2.0, 0.0262, 10.0, 12.0) == pytest.approx(expected, rel=1e-3)


@pytest.mark.evidence("published", "hydraulics.gravity_flow_at_constant_resistance")
def test_the_closed_cubic_where_scipy_finds_it():
    """1.5 kW, 2.5 m, 25.4 mm, K = 60, expansion 5e-4 /K, 985 kg/m3, 4181 J/(kg K): 0.03318 kg/s and 10.81 K."""

    def left(flow, heat):
        speed = flow / (985.0 * np.pi * 0.0254**2 / 4)
        return 9.81 * 985.0 * 5e-4 * 1500.0 / (flow * heat) * 2.5 - 60.0 * 985.0 * speed**2 / 2

    assert brentq(left, 1e-3, 1.0, args=(4181.0,), xtol=1e-15) == pytest.approx(0.03318, abs=5e-6)
    ours = hydraulics.gravity_flow_at_constant_resistance(1500.0, 2.5, 0.0254, 60.0)
    assert ours == pytest.approx(brentq(left, 1e-3, 1.0, args=(4186.8,), xtol=1e-15), rel=1e-8)
    assert 1500.0 / (ours * 4186.8) == pytest.approx(10.81, abs=0.01)
