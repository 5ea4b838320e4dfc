"""DESNZ, greenhouse gas conversion factors 2025: fuel properties and carbon.

Obtained: read in two public transcriptions that agree. Grade A, second-hand. Factors are for burning alone.
"""

import pytest

from tlib import combustion

KWH = 3.6e6


@pytest.mark.evidence("published", "combustion.net_calorific_value")
def test_logs_as_sold_are_our_wood_at_twenty_per_cent():
    """Net value of logs as sold, 14.71 GJ/t: 19.0 MJ/kg dry at 20 % moisture."""
    assert combustion.net_calorific_value(0.20) / 1e6 == pytest.approx(14.71, abs=5e-3)


@pytest.mark.evidence("published", "combustion.net_from_gross")
def test_logs_gross_and_net():
    """Gross 16.256 and net 14.71 GJ/t as sold; dry, the gross value is 20.32, with 6 % hydrogen."""
    net = combustion.net_from_gross(16.256e6 / 0.8, hydrogen=0.06, moisture=0.20)
    assert net / 1e6 == pytest.approx(14.71, rel=0.005)


@pytest.mark.evidence("published", "combustion.carbon_emitted")
@pytest.mark.parametrize(
    ("fuel", "factor"), [("natural gas", 0.18296), ("heating oil", 0.24677), ("bottled gas", 0.21450)]
)
def test_carbon_for_each_kilowatt_hour_gross(fuel, factor):
    assert combustion.carbon_emitted(fuel, KWH, "reporting") == pytest.approx(factor, abs=5e-6)


@pytest.mark.evidence("published", "combustion.carbon_emitted", "combustion.fuel_mass")
def test_carbon_for_each_tonne():
    """Burning oil 3165.04, LPG 2939.36, logs 46.99 kg a tonne."""
    for fuel, moisture, printed in (("heating oil", 0.0, 3165.04), ("bottled gas", 0.0, 2939.36), ("wood", 0.2, 46.99)):
        each_kilowatt_hour = combustion.carbon_emitted(fuel, KWH, "reporting")
        tonne = 1000.0 / combustion.fuel_mass(fuel, KWH, moisture) * each_kilowatt_hour
        assert tonne == pytest.approx(printed, rel=1e-3)


@pytest.mark.evidence("published", "combustion.fuel_volume", "combustion.fuel_mass")
def test_carbon_for_each_litre_of_oil_and_cubic_metre_of_gas():
    """2.54016 kg for each litre of burning oil; 2.06672 kg for each cubic metre of gas, 11.29 kWh gross."""
    litre = 1e-3 / combustion.fuel_volume("heating oil", KWH)
    assert litre * combustion.carbon_emitted("heating oil", KWH, "reporting") == pytest.approx(2.54016, rel=2e-4)
    cubic_metre = 1.0 / combustion.fuel_volume("natural gas", KWH)
    assert cubic_metre == pytest.approx(11.29, abs=5e-3)
    assert cubic_metre * combustion.carbon_emitted("natural gas", KWH, "reporting") == pytest.approx(2.06672, rel=1e-3)


@pytest.mark.evidence("published", "combustion.fuel_record")
def test_calorific_values_and_density():
    gas, oil = combustion.fuel_record("natural gas"), combustion.fuel_record("heating oil")
    assert (gas.net, gas.gross, gas.density) == pytest.approx((45.745e6, 50.678e6, 0.802), rel=1e-9)
    assert (oil.net, oil.density) == pytest.approx((43.865e6, 802.568), rel=1e-9)
