"""EN 1057, copper tubes: sizes, bores and contents.

Obtained: recommended sizes as printed in an industry leaflet; bores and filling volumes of the continental walls as
printed in a tube data sheet; British bores and contents are the arithmetic of the sizes. Grade A.
"""

import pytest

from tlib import hydraulics

HALF_HARD = [
    # outside, wall, bore / mm, content / (l/m)
    (8, 0.6, 6.8, 0.0363), (10, 0.6, 8.8, 0.0608), (15, 0.7, 13.6, 0.1453), (22, 0.9, 20.2, 0.3205),
    (28, 0.9, 26.2, 0.5391), (35, 1.2, 32.6, 0.8347), (42, 1.2, 39.6, 1.2316), (54, 1.2, 51.6, 2.0912),
]  # fmt: skip
CONTINENTAL = [
    # outside, wall, bore / mm, filling volume / (l/m) as the data sheet prints it
    (10, 1.0, 8.0, 0.050), (12, 1.0, 10.0, 0.079), (15, 1.0, 13.0, 0.133), (18, 1.0, 16.0, 0.201),
    (22, 1.0, 20.0, 0.314), (28, 1.5, 25.0, 0.491), (35, 1.5, 32.0, 0.804),
]  # fmt: skip


@pytest.mark.evidence("published", "hydraulics.copper_tube", "hydraulics.tube_content")
@pytest.mark.parametrize(("outside", "wall", "bore", "content"), HALF_HARD)
def test_half_hard_tubes_by_their_outside_diameter(outside, wall, bore, content):
    tube = hydraulics.copper_tube(f"{outside} mm")
    assert (tube.outside, tube.wall) == pytest.approx((outside / 1000, wall / 1000), abs=1e-9)
    assert 1000 * tube.bore == pytest.approx(bore, abs=1e-6)
    assert 1000 * hydraulics.tube_content(tube.bore, 1.0) == pytest.approx(content, abs=1e-4)


@pytest.mark.evidence("published", "hydraulics.copper_tube", "hydraulics.tube_content")
@pytest.mark.parametrize(("outside", "wall", "bore", "content"), CONTINENTAL)
def test_continental_tubes_by_diameter_and_wall(outside, wall, bore, content):
    tube = hydraulics.copper_tube(f"{outside} x {wall:g} mm")
    assert 1000 * tube.bore == pytest.approx(bore, abs=1e-6)
    assert 1000 * hydraulics.tube_content(tube.bore, 1.0) == pytest.approx(content, abs=6e-4)
