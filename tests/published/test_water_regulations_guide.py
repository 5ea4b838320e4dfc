"""Water Regulations Guide, G20.3: rise of an open vent, 0.04 H + 0.15. Obtained: quoted with its number, and an example
(5 m: 350 mm), read on a public page. Grade A."""

import pytest

from tlib import thermal_expansion

EXAMPLE = (5.0, 0.350)  # head [m], rise [m]


@pytest.mark.evidence("published", "thermal_expansion.vent_height")
def test_example():
    head, printed = EXAMPLE
    assert thermal_expansion.vent_height(head) == pytest.approx(printed)


@pytest.mark.evidence("published", "thermal_expansion.cistern_rise")
def test_rise_in_a_cistern_by_its_volume():
    # Three litres in a cistern with a surface of 0.2 m by 0.3 m stand 50 mm high: a volume over a surface.
    assert thermal_expansion.cistern_rise(0.003, 0.2 * 0.3) == pytest.approx(0.050)
