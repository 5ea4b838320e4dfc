"""Mixing of hot and cold water as printed: a physics forum, a teaching text, SIA 385/2, and the balance itself.

Obtained: each read on a public page (the planning values of SIA 385/2 as quoted in open documentation). Grade A.
"""

import pytest

from tlib import hydraulics, sizing


@pytest.mark.evidence("published", "hydraulics.hot_share", "hydraulics.valve_share")
def test_blending_fractions():
    hot, mixed = [60.0, 75.0, 75.0], [40.0, 48.0, 44.0]
    assert hydraulics.hot_share(hot, 10.0, mixed) == pytest.approx([0.6, 0.58462, 0.52308], abs=5e-6)
    assert hydraulics.valve_share(hot, 10.0, mixed) == pytest.approx([0.6, 0.58462, 0.52308], abs=5e-6)


@pytest.mark.evidence("published", "hydraulics.hot_share")
def test_a_bath_of_3500_litres():
    """100 °C and 10 °C to fill 3500 l at 40 °C: the forum prints 1166 l of hot."""
    assert 3500 * hydraulics.hot_share(100.0, 10.0, 40.0) == pytest.approx(1166.7, abs=0.1)


@pytest.mark.evidence("published", "hydraulics.mixed_temperature", "sizing.stirring_working")
def test_two_layers_stirred():
    """250 l at 80 °C with 750 l at 20 °C: the text prints 35 °C."""
    assert hydraulics.mixed_temperature(250 / 1000, 80.0, 20.0) == pytest.approx(35.0, abs=0.05)
    mixed, *_ = sizing.stirring_working(volume=1.0, hot_part=0.250, hot=80.0, cold=20.0, useful=30.0)
    assert mixed.value == pytest.approx(35.0, abs=0.05)


@pytest.mark.evidence("published", "hydraulics.hot_share")
@pytest.mark.parametrize(("at_60", "at_45"), [(40, 57), (45, 64), (55, 79)])
def test_litres_at_60_degrees_as_litres_at_45(at_60, at_45):
    assert at_60 / hydraulics.hot_share(60.0, 10.0, 45.0) == pytest.approx(at_45, abs=0.6)
