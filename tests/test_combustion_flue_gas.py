"""Flue gas: limits, conservation and the engine's straight line beside the physics it stands for."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tlib import combustion, water_properties

EXCUSED = [("conservation", "combustion.boiler_efficiency", "a straight line drawn through common practice")]
BURNING = st.sampled_from(["wood", "natural gas", "heating oil", "bottled gas"])
AIR = st.floats(1.0, 4.0)


def elements_in_gas(fuel, air_ratio):
    """Count the dry gas of a kilogram of dry fuel by its elements, and its CO2, from the public functions alone."""
    carbon = fuel.carbon / 12.011
    return carbon, carbon / combustion.flue_carbon_dioxide(fuel, air_ratio)


@pytest.mark.evidence("limit", "combustion.air_demand", "combustion.flue_carbon_dioxide")
def test_pure_carbon_makes_as_much_carbon_dioxide_as_air_brought_oxygen():
    charcoal = combustion.Fuel("charcoal", carbon=1.0, net=32.8e6, gross=32.8e6)
    assert combustion.flue_carbon_dioxide(charcoal, 1.0) == pytest.approx(0.2095, rel=1e-12)
    assert combustion.air_demand(charcoal) == pytest.approx(28.96 / 12.011 / 0.2095, rel=1e-12)


@pytest.mark.evidence("conservation", "combustion.air_demand", "combustion.flue_carbon_dioxide")
@settings(deadline=None)
@given(name=BURNING, air_ratio=AIR)
def test_nitrogen_spare_oxygen_and_carbon_dioxide_are_the_dry_gas(name, air_ratio):
    fuel = combustion.fuel_record(name)
    carbon, dry = elements_in_gas(fuel, air_ratio)
    air = air_ratio * combustion.air_demand(fuel) / 28.96
    nitrogen, oxygen = 0.7905 * air, 0.2095 * air * (1 - 1 / air_ratio)
    assert carbon + nitrogen + oxygen == pytest.approx(dry, rel=1e-9)


@pytest.mark.evidence("limit", "combustion.flue_dew_point")
def test_a_fuel_without_hydrogen_in_humid_air_has_nearly_the_dew_point_of_the_air():
    """Charcoal changes oxygen for carbon dioxide one for one, so the vapour's share stays that of the air."""
    charcoal = combustion.Fuel("charcoal", carbon=1.0, net=32.8e6, gross=32.8e6)
    humidity = 0.010
    share = humidity / 18.015 / (humidity / 18.015 + 1 / 28.96)
    air = water_properties.saturation_temperature(share * 101325.0)
    assert combustion.flue_dew_point(charcoal, 0.0, 1.5, air_humidity=humidity) == pytest.approx(air, abs=1e-9)


@pytest.mark.evidence("conservation", "combustion.flue_dew_point", "combustion.condensed_share")
@settings(deadline=None)
@given(name=BURNING, air_ratio=AIR, humidity=st.floats(0.0, 0.02), cooler=st.floats(0.1, 25.0))
def test_vapour_condenses_below_the_dew_point_and_what_is_left_saturates_the_gas(name, air_ratio, humidity, cooler):
    fire = {"fuel": name, "moisture": 0.0, "air_ratio": air_ratio, "air_humidity": humidity}
    dew = combustion.flue_dew_point(**fire)
    assert combustion.condensed_share(gas_temperature=dew + 1e-6, **fire) == 0.0
    cold = max(dew - cooler, 1.0)
    gone = combustion.condensed_share(gas_temperature=cold, **fire)
    share = water_properties.saturation_pressure(dew) / 101325.0
    left = share * (1 - gone) / (1 - share * gone)
    assert left * 101325.0 == pytest.approx(water_properties.saturation_pressure(cold), rel=1e-6)


@pytest.mark.evidence("limit", "combustion.condensed_share", "combustion.condensing_gain")
def test_hot_gas_condenses_nothing_and_ice_cold_gas_nearly_all():
    assert combustion.condensed_share("natural gas", 0.0, 1.2, [99.0, 65.0]) == pytest.approx([0.0, 0.0], abs=1e-12)
    assert combustion.condensed_share("natural gas", 0.0, 1.2, 0.01) > 0.96
    assert combustion.condensing_gain("natural gas", [90.0, 56.0]) == pytest.approx([0.0, 0.0], abs=1e-12)


@pytest.mark.evidence("conservation", "combustion.condensing_gain")
@settings(deadline=None)
@given(name=st.sampled_from(["natural gas", "heating oil", "bottled gas"]), back=st.floats(1.0, 80.0), air_ratio=AIR)
def test_condensing_gives_back_no_more_than_the_latent_heat(name, back, air_ratio):
    fuel = combustion.fuel_record(name)
    gain = combustion.condensing_gain(name, back, air_ratio)
    assert 0.0 <= gain <= (fuel.gross - fuel.net) / fuel.gross
    assert combustion.condensing_gain(name, back + 1.0, air_ratio) <= gain


@pytest.mark.evidence("limit", "combustion.flue_loss")
def test_gas_that_leaves_as_cold_as_the_air_loses_nothing():
    assert combustion.flue_loss("wood", 0.2, 2.0, 20.0) == 0.0


@pytest.mark.evidence("conservation", "combustion.flue_loss")
@settings(deadline=None)
@given(name=BURNING, air_ratio=AIR, hot=st.floats(21.0, 250.0), part=st.floats(0.1, 0.9))
def test_cooling_the_gas_in_two_steps_gives_what_one_step_gives(name, air_ratio, hot, part):
    middle = 20.0 + part * (hot - 20.0)
    first = combustion.flue_loss(name, 0.0, air_ratio, hot, middle) if middle <= 60.0 else None
    if first is not None:
        second = combustion.flue_loss(name, 0.0, air_ratio, middle, 20.0)
        assert first + second == pytest.approx(
            combustion.flue_loss(name, 0.0, air_ratio, hot, 20.0), rel=1e-9, abs=1e-15
        )


@settings(deadline=None)
@given(name=BURNING, air_ratio=st.floats(1.0, 3.0), more=st.floats(1.01, 1.3))
def test_more_air_lowers_the_dew_point_and_the_carbon_dioxide_and_raises_the_loss(name, air_ratio, more):
    thin = air_ratio * more
    assert combustion.flue_dew_point(name, 0.0, thin) < combustion.flue_dew_point(name, 0.0, air_ratio)
    assert combustion.flue_carbon_dioxide(name, thin) < combustion.flue_carbon_dioxide(name, air_ratio)
    assert combustion.flue_loss(name, 0.0, thin, 200.0) > combustion.flue_loss(name, 0.0, air_ratio, 200.0)


def test_wetter_wood_and_more_humid_air_raise_the_dew_point_and_arrays_broadcast():
    dew = combustion.flue_dew_point("wood", [[0.1], [0.3], [0.5]], [1.5, 2.0])
    assert dew.shape == (3, 2)
    assert np.all(np.diff(dew, axis=0) > 0)
    assert combustion.flue_dew_point("wood", 0.2, 1.5, air_humidity=0.01) > combustion.flue_dew_point("wood", 0.2, 1.5)
    assert combustion.flue_dew_point("wood", 0.2, 1.5, pressure=90e3) < combustion.flue_dew_point("wood", 0.2, 1.5)


def test_the_dew_points_of_the_course():
    """Worked twice by hand with 5 g of water in a kilogram of air."""
    humid = {"air_humidity": 0.005}
    wood = combustion.flue_dew_point("wood", [0.20, 0.20, 0.40, 0.50], [1.8, 1.5, 1.8, 1.8], **humid)
    assert wood == pytest.approx([48.5, 51.5, 55.6, 59.7], abs=0.06)
    assert combustion.flue_dew_point("natural gas", 0.0, [1.3, 1.2], **humid) == pytest.approx([55.0, 56.5], abs=0.1)
    assert combustion.flue_dew_point("heating oil", 0.0, [1.3, 1.2], **humid) == pytest.approx([47.3, 48.7], abs=0.1)


@pytest.mark.evidence("limit", "combustion.boiler_efficiency")
def test_a_warm_return_gets_the_dry_efficiency_and_a_cold_one_no_more_than_the_greatest():
    assert combustion.boiler_efficiency([55.0, 70.0, 110.0]) == pytest.approx([0.88] * 3)
    assert combustion.boiler_efficiency([0.0, 20.0]) == pytest.approx([0.97] * 2)
    assert combustion.boiler_efficiency(20.0, gain=0.0) == pytest.approx(0.88)


@pytest.mark.parametrize("back", [20.0, 30.0, 40.0, 50.0, 60.0])
def test_the_engine_s_line_stays_within_two_and_a_half_points_of_the_flue_gas_sum(back):
    """100 % less warm gas, less vapour not condensed, less 1 % through the casing (common practice, no source)."""
    gas = combustion.fuel_record("natural gas")
    latent = (gas.gross - gas.net) / gas.gross
    warm = combustion.flue_loss("natural gas", 0.0, 1.2, back + 5.0) * gas.net / gas.gross
    physics = 1.0 - warm - latent + combustion.condensing_gain("natural gas", back) - 0.01
    assert combustion.boiler_efficiency(back) == pytest.approx(physics, abs=0.025)
