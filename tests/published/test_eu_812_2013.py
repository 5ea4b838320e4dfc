"""Delegated Regulation (EU) 812/2013, annex II table 2: classes of hot water storage tanks by standing loss.

Obtained: the regulation's text read but for its formula images; all seven pairs seen in several unrelated public
programs. Grade A for class C, second-hand for the others. One source prints 3.6 for 3.16 in A+, a slip.
"""

import pytest

from tlib import heat_transfer, sizing
from tlib.tables import table

BOUNDS = {  # litres: bounds [W] of A+ to F, worked out by hand
    200: (31.81, 43.88, 61.37, 86.01, 107.0, 139.73, 169.7),
    300: (36.44, 50.11, 70.06, 98.22, 122.15, 159.75, 194.13),
}
TRADE_JOURNAL = (2000, 0.095)  # litres, W for each litre at the bound of class C, as a trade journal prints
PUBLIC_NOTE = (200, 86.0, 45.0)  # litres, W at the bound of class C, excess of the test [K]


@pytest.mark.evidence("published", "heat_transfer.energy_class_bounds")
@pytest.mark.parametrize("litres", BOUNDS)
def test_bounds(litres):
    ours = heat_transfer.energy_class_bounds(litres / 1000)
    assert list(ours) == ["A+", "A", "B", "C", "D", "E", "F"]
    assert tuple(ours.values()) == pytest.approx(BOUNDS[litres], abs=0.02)


@pytest.mark.evidence("published", "heat_transfer.energy_class_bounds")
def test_bound_for_each_litre_of_a_big_store():
    litres, printed = TRADE_JOURNAL
    assert heat_transfer.energy_class_bounds(litres / 1000)["C"] / litres == pytest.approx(printed, abs=0.0005)


@pytest.mark.evidence("published", "heat_transfer.energy_class")
@pytest.mark.parametrize(("loss", "letter"), [(31.0, "A+"), (32.0, "A"), (61.0, "B"), (86.0, "C"), (86.1, "D"),
                                              (169.0, "F"), (170.0, "G")])  # fmt: skip
def test_class_of_a_store_of_200_litres(loss, letter):
    assert heat_transfer.energy_class(loss, 0.200) == letter


@pytest.mark.evidence(
    "published", "heat_transfer.label_loss_coefficient", "heat_transfer.standing_loss", "sizing.standing_working"
)
def test_test_conditions_are_65_in_20():
    litres, watts, excess = PUBLIC_NOTE
    assert table("published_limits")["classes_source"]["test"] == {"store": 65.0, "room": 20.0}
    coefficient = heat_transfer.label_loss_coefficient(heat_transfer.energy_class_bounds(litres / 1000)["C"])
    assert coefficient == pytest.approx(watts / excess, rel=0.001)
    assert heat_transfer.standing_loss(coefficient, 65.0, 20.0) == pytest.approx(watts, abs=0.05)
    _, each, real, *_ = sizing.standing_working(
        label=watts, test_store=65.0, test_room=20.0, store=65.0, room=20.0, volume=litres / 1000, duration=1.0
    )
    assert (each.value, real.value) == pytest.approx((watts / excess, watts), rel=0.001)
