"""Commission Regulation (EU) 814/2013, annex I: quantities that follow from its definitions."""

import pytest

from tlib import stratification


@pytest.mark.evidence("published", "stratification.usable_heat")
def test_mixed_water_at_40_degrees():
    """Annex I(24): V40 is the water at 40 °C with the heat drawn above 10 °C; 150 l at 65 °C make 275 l."""
    heat = stratification.usable_heat([65.0] * 3, 150.0, limit=10.0, specific_heat=4186.0)
    assert heat / (4186.0 * 30.0) == pytest.approx(275.0, abs=0.1)
