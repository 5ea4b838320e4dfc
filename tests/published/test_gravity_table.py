"""Gravity heating: circulating pressure for each metre of height, the table of a public engineering reference.

Obtained: the table read. Grade A. It lies about 1 % above what the densities of the steam tables give.
"""

import pytest

from tlib import hydraulics

TABLE = [
    # flow / °C, return / °C, pressure / (Pa/m)
    (90, 80, 64), (90, 70, 123), (90, 60, 177), (90, 50, 225), (90, 40, 267), (80, 70, 59), (80, 60, 113),
    (80, 50, 161), (80, 40, 203), (70, 60, 54), (70, 50, 101), (70, 40, 143), (60, 50, 48), (60, 40, 89), (50, 40, 41),
]  # fmt: skip


@pytest.mark.evidence("published", "hydraulics.gravity_head")
@pytest.mark.parametrize(("flow", "back", "pressure"), TABLE)
def test_push_for_each_metre(flow, back, pressure):
    assert hydraulics.gravity_head(flow, back, 1.0) == pytest.approx(pressure, rel=0.015)
