"""INAIL, Raccolta R (2009), chapter R.3.B: growth of the water, n = 0.31 + 3.9e-4 t^2 percent.

Obtained: the text read in a public reproduction, with 0.0421 at 100 °C. Grade A. A rule that counts from a cold start
and rounds up, not physics; the European table (EN 12828) is the same rule.
"""

import pytest

from tlib import thermal_expansion

PRINTED_AT_100 = 0.0421
# warmest water [°C], the rule's percent, how far it may lie from the density of water [points]
RULE = [(40.0, 0.93, 0.20), (60.0, 1.71, 0.05), (80.0, 2.81, 0.10), (90.0, 3.47, 0.13)]


def rule(celsius):
    return (0.31 + 3.9e-4 * celsius**2) / 100


def test_the_rule_is_the_printed_one():
    assert rule(100.0) == pytest.approx(PRINTED_AT_100, abs=5e-6)


@pytest.mark.evidence("published", "thermal_expansion.expanded_fraction")
@pytest.mark.parametrize(("celsius", "percent", "apart"), RULE)
def test_the_rule_and_our_convention(celsius, percent, apart):
    # Ours is the density of water from the temperature it was filled at; the rule starts at 4 °C.
    assert 100 * rule(celsius) == pytest.approx(percent, abs=0.05)
    assert 100 * thermal_expansion.expanded_fraction(4.0, celsius) == pytest.approx(100 * rule(celsius), abs=apart)


@pytest.mark.evidence("published", "thermal_expansion.cistern_allowance")
def test_four_percent_for_a_cistern_lies_just_under_the_figure_for_boiling_water():
    # Two public plumbing pages: a cistern takes up to 4 % of the system. 400 litres: 16.0.
    assert 1000 * thermal_expansion.cistern_allowance(0.400) == pytest.approx(16.0)
    assert thermal_expansion.cistern_allowance(1.0) < PRINTED_AT_100
    assert 1000 * thermal_expansion.expansion_volume(0.400, 10.0, 95.0) == pytest.approx(15.7, abs=0.05)
