"""White, Fluid Mechanics, seventh edition: examples 6.7 and 6.18.

Obtained: 6.7 and 6.18 read word for word on public pages; the pipes of 6.18 (its example 6.17) from memory, and they
agree with the L/d and the friction factors printed in the reading. Grade A.
"""

import numpy as np
import pytest
from scipy.optimize import brentq

from tlib import hydraulics

EXAMPLE_6_18 = [
    # length / m, bore / m, roughness / m, factor as read off the chart, flow / (m3/h)
    (100.0, 0.08, 0.24e-3, 0.0267, 62.5), (150.0, 0.06, 0.12e-3, 0.0246, 25.9), (80.0, 0.04, 0.20e-3, 0.0313, 11.4),
]  # fmt: skip
HEAD_LOSS, VISCOSITY = 20.3, 1.02e-6  # m, m2/s


@pytest.mark.evidence("published", "hydraulics.friction_factor")
def test_example_6_7_oil_in_cast_iron():
    """Re 128,000 and roughness 0.0013: read as 0.0225 off the Moody chart, good to about one per cent."""
    assert hydraulics.friction_factor(128e3, 0.0013) == pytest.approx(0.0225, rel=0.012)


@pytest.mark.evidence("published", "hydraulics.friction_factor")
@pytest.mark.parametrize(("length", "bore", "roughness", "factor", "flow"), EXAMPLE_6_18)
def test_example_6_18_each_of_three_pipes_in_parallel(length, bore, roughness, factor, flow):
    """Each pipe loses 20.3 m; chart readings are good to about one per cent."""

    def lost(speed):
        f = hydraulics.friction_factor(speed * bore / VISCOSITY, roughness / bore)
        return f * length / bore * speed**2 / (2 * 9.81) - HEAD_LOSS

    speed = brentq(lost, 0.1, 10.0)
    assert hydraulics.friction_factor(speed * bore / VISCOSITY, roughness / bore) == pytest.approx(factor, rel=0.012)
    assert 3600 * speed * np.pi * bore**2 / 4 == pytest.approx(flow, rel=0.006)


@pytest.mark.evidence("published", "hydraulics.branch_flows", "hydraulics.flow_at_drop")
def test_example_6_18_the_main_divides_as_printed():
    """The same three pipes as branches: 99.8 m3/h divide into 62.5, 25.9 and 11.4. Water of 20 °C, 998.2 kg/m3."""
    lengths, bores, rough, _, flows = (np.array(column) for column in zip(*EXAMPLE_6_18, strict=True))
    pushed = 3.6 * hydraulics.flow_at_drop(998.2 * 9.81 * HEAD_LOSS, bores, lengths, 0.0, 20.0, rough) / 0.9982
    assert pushed == pytest.approx(flows, rel=0.006)
    # one roughness for all branches, so the share of the middle pipe shifts by a per cent
    divided = 3.6 * hydraulics.branch_flows(99.8 * 0.9982 / 3.6, bores, lengths, 0.0, 20.0, 0.2e-3) / 0.9982
    assert divided == pytest.approx(flows, rel=0.07)
