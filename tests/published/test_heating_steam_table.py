"""A steam table of the German heating trade: the gauge pressure that keeps water liquid.

Obtained: rows seen in a public reproduction. Grade A. The table takes about 1.00 bar of air off, not 1.01325, and
prints rounded steps: within 0.03 bar.
"""

import pytest

from tlib import water_properties

BOILING = [
    # °C, bar gauge
    (110.0, 0.433),
    (120.0, 0.985),
    (130.0, 1.701),
    (145.0, 3.155),
    (150.0, 3.76),
]


@pytest.mark.evidence("published", "water_properties.saturation_pressure", "water_properties.saturation_temperature")
@pytest.mark.parametrize(("celsius", "gauge"), BOILING)
def test_pressure_that_keeps_water_liquid(celsius, gauge):
    absolute = 1e5 * gauge + 101_325.0
    assert water_properties.saturation_pressure(celsius) == pytest.approx(absolute, abs=0.03e5)
    assert water_properties.saturation_temperature(absolute) == pytest.approx(celsius, abs=0.5)
