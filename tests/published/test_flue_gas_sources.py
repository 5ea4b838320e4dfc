"""Flue gas: textbook examples, tables of air and carbon dioxide, and measured losses of wood boilers.

Obtained: an ethane problem of a textbook with its solution, a table of air-fuel ratios, greatest carbon dioxide and the
condensing article on public pages; flue losses from a journal abstract. All read; grade A. Where air is taken as
21 % oxygen or 3.76 parts of nitrogen, the source is a little richer than our 20.95 %.
"""

import pytest
from scipy.constants import R

from tlib import combustion


def hydrocarbon(carbon, hydrogen):
    """Return the fuel of a formula such as C2H6."""
    mass = 12.011 * carbon + 1.008 * hydrogen
    return combustion.Fuel("gas", carbon=12.011 * carbon / mass, hydrogen=1.008 * hydrogen / mass, net=5e7, gross=5.5e7)


AIR_FUEL = [
    # carbon, hydrogen, kg of air for each kg
    (1, 4, 17.19), (2, 6, 16.07), (2, 2, 13.26), (4, 10, 15.44), (3, 8, 15.5),
]  # fmt: skip


@pytest.mark.evidence("published", "combustion.air_demand")
@pytest.mark.parametrize(("carbon", "hydrogen", "air"), AIR_FUEL)
def test_theoretical_air(carbon, hydrogen, air):
    assert combustion.air_demand(hydrocarbon(carbon, hydrogen)) == pytest.approx(air, rel=0.012)


@pytest.mark.evidence("published", "combustion.air_demand")
def test_theoretical_air_of_dry_wood():
    """6.1 for dry wood of somewhat more hydrogen and less oxygen than our round figures."""
    assert combustion.air_demand("wood") == pytest.approx(6.1, rel=0.04)


@pytest.mark.evidence("published", "combustion.flue_dew_point", "combustion.air_demand")
def test_ethane_with_five_moles_of_oxygen():
    """Thermodynamics for Engineers, problem 13.2: air ratio 5/3.5, air-fuel 23.0, dew point 49 °C at 100 kPa."""
    ethane = hydrocarbon(2, 6)
    assert 5 / 3.5 * combustion.air_demand(ethane) == pytest.approx(23.0, rel=0.005)
    assert combustion.flue_dew_point(ethane, 0.0, 5 / 3.5, pressure=100e3) == pytest.approx(49.0, abs=0.5)


@pytest.mark.evidence("published", "combustion.flue_carbon_dioxide")
@pytest.mark.parametrize(("fuel", "greatest"), [("natural gas", 0.118), ("natural gas", 0.117), ("heating oil", 0.154)])
def test_greatest_carbon_dioxide(fuel, greatest):
    assert combustion.flue_carbon_dioxide(fuel, 1.0) == pytest.approx(greatest, rel=0.02)


@pytest.mark.evidence("published", "combustion.flue_dew_point")
def test_natural_gas_begins_to_condense_near_55_degrees():
    """About 55 °C (British text) and 130 °F, 54.4 °C (an American energy office): both within usual air ratios."""
    rich, lean = combustion.flue_dew_point("natural gas", 0.0, [1.1, 1.35])
    assert lean < 54.4 < 55.0 < rich


WOOD_LOSSES = [
    # moisture / %, flue gas / °C, loss / %
    (10, 120, 8.37), (60, 120, 12.43), (10, 200, 15.19), (60, 200, 22.55),
]  # fmt: skip


@pytest.mark.evidence("published", "combustion.flue_loss")
@pytest.mark.parametrize(("moisture", "gas", "loss"), WOOD_LOSSES)
def test_losses_of_a_wood_boiler(moisture, gas, loss):
    """The abstract does not say the excess air; one air ratio, 2.4, meets all four figures within 4 %."""
    assert 100 * combustion.flue_loss("wood", moisture / 100, 2.4, gas) == pytest.approx(loss, rel=0.04)


@pytest.mark.evidence("published", "combustion.flue_loss")
@pytest.mark.parametrize("gas", [60.0, 150.0, 250.0])
def test_molar_heats_against_coolprop(gas):
    """Methane at an air ratio of 1.2: the same gases with CoolProp's heats, between 20 °C and the gas. Grade B."""
    CoolProp = pytest.importorskip("CoolProp.CoolProp")
    moles = {"CarbonDioxide": 1.0, "Oxygen": 0.4, "Nitrogen": 2.4 * 79.05 / 20.95}

    def above_the_air(name):
        warm, cool = (CoolProp.PropsSI("Hmolar", "T", t + 273.15, "P", 1e4, name) for t in (gas, 20.0))
        return warm - cool

    heat = sum(n * above_the_air(name) for name, n in moles.items())
    steam = CoolProp.PropsSI("Cp0molar", "T", (gas + 20.0) / 2 + 273.15, "P", 1e3, "Water")
    heat += 2.0 * steam * (gas - 20.0)
    methane = combustion.Fuel("methane", carbon=0.7487, hydrogen=0.2513, net=50e6, gross=55.5e6)
    assert steam > 3.9 * R
    assert combustion.flue_loss(methane, 0.0, 1.2, gas) == pytest.approx(heat / 16.043e-3 / 50e6, rel=0.015)


@pytest.mark.evidence("published", "combustion.net_from_gross")
def test_methane_gross_and_net():
    """55.5 and 50.05 MJ/kg, as two public tables print them."""
    assert combustion.net_from_gross(55.5e6, hydrogen=0.2513) / 1e6 == pytest.approx(50.05, abs=0.06)


@pytest.mark.evidence("published", "combustion.boiler_efficiency", "combustion.condensing_gain")
def test_a_condensing_boiler_by_its_return():
    """Condensing stops at about 55 °C; the efficiency is then 88 % and rises towards 100 % as the return falls."""
    assert combustion.boiler_efficiency([55.0, 60.0]) == pytest.approx([0.88, 0.88], abs=1e-12)
    assert 0.95 < combustion.boiler_efficiency(20.0) <= 1.0
    assert combustion.condensing_gain("natural gas", 55.0, approach=1.0) < 0.005
    assert combustion.condensing_gain("natural gas", 20.0) > 0.07
