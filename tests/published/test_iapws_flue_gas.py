"""Dew points of flue gas: molecules counted here one by one, and the saturation line of the library iapws.

Obtained: the library, run here; WD-05 and WD-07 were printed by iapws 1.5.5. Grade B. Air is dry.
"""

import pytest
from iapws import IAPWS97

from tlib import combustion

WOOD = [
    # moisture / %, air ratio, dew point / °C, carbon dioxide in dry gas / %
    (20, 1.5, 50.5, 13.65), (20, 2.0, 45.4, 10.23), (30, 1.5, 54.2, 13.65), (50, 1.5, 62.3, 13.65),
]  # fmt: skip
METHANE = [(1.0, 59.2), (1.1, 57.3), (1.2, 55.7), (1.3, 54.1)]


def dew_point(vapour, dry):
    return IAPWS97(P=0.101325 * vapour / (vapour + dry), x=0).T - 273.15


@pytest.mark.evidence("published", "combustion.flue_dew_point", "combustion.flue_carbon_dioxide")
@pytest.mark.parametrize(("moisture", "air_ratio", "dew", "carbon_dioxide"), WOOD)
def test_wood(moisture, air_ratio, dew, carbon_dioxide):
    assert combustion.flue_dew_point("wood", moisture / 100, air_ratio) == pytest.approx(dew, abs=0.06)
    assert 100 * combustion.flue_carbon_dioxide("wood", air_ratio) == pytest.approx(carbon_dioxide, abs=0.006)


@pytest.mark.evidence("published", "combustion.flue_dew_point")
@pytest.mark.parametrize(("air_ratio", "dew"), METHANE)
def test_methane(air_ratio, dew):
    """CH4 + 2 a (O2 + 3.773 N2) -> CO2 + 2 H2O + 2 (a - 1) O2 + 7.546 a N2."""
    counted = dew_point(2.0, 1.0 + 2.0 * (air_ratio - 1.0) + 7.546 * air_ratio)
    ours = combustion.flue_dew_point("natural gas", 0.0, air_ratio)
    assert ours == pytest.approx(counted, abs=0.02)
    assert ours == pytest.approx(dew, abs=0.06)


@pytest.mark.evidence("published", "combustion.condensed_share", "combustion.condensing_gain")
@pytest.mark.parametrize("gas", [20.0, 35.0, 50.0])
def test_vapour_left_in_cooled_gas(gas):
    """Methane at an air ratio of 1.2 leaves 1 + 0.4 + 9.055 dry moles, saturated at the gas's temperature."""
    dry = 1.0 + 0.4 + 7.546 * 1.2
    pressure = IAPWS97(T=gas + 273.15, x=0).P
    condensed = 1.0 - dry * pressure / (0.101325 - pressure) / 2.0
    assert combustion.condensed_share("natural gas", 0.0, 1.2, gas) == pytest.approx(condensed, abs=2e-4)
    latent = (50.678 - 45.745) / 50.678  # DESNZ 2025
    assert combustion.condensing_gain("natural gas", gas - 5.0) == pytest.approx(condensed * latent, abs=2e-5)
