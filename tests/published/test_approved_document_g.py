"""Approved Document G (England), G3: copper discharge pipes. Obtained: the table and the worked example, reproduced
alike in several instructions, and two exercises of a plumbing textbook, read. Grade A."""

import pytest

from tlib import thermal_expansion
from tlib.tables import table

# outlet: pipe to the tundish [mm]; sizes after it [mm]; longest resistance [m]; each elbow [m]
SIZES = {
    "G1/2": (15, (22, 28, 35), (9, 18, 27), (0.8, 1.0, 1.4)),
    "G3/4": (22, (28, 35, 42), (9, 18, 27), (1.0, 1.4, 1.7)),
    "G1": (28, (35, 42, 54), (9, 18, 27), (1.4, 1.7, 2.3)),
}
# outlet, length [m], elbows: size [mm], resistance [m]
EXAMPLES = [
    ("G1/2", 7.0, 4, 28, 11.0),  # the document's own: 22 mm would be 10.2 m, more than 9
    ("G1/2", 6.0, 6, 28, 12.0),  # textbook, worked: 22 mm would be 10.8 m
]
TUNDISH = {"farthest_from_valve": 0.600, "straight_below": 0.300, "fall": 1 / 200}


@pytest.mark.evidence("published", "thermal_expansion.discharge_pipe")
@pytest.mark.parametrize("outlet", SIZES)
def test_sizing_table(outlet):
    before, sizes, longest, elbows = SIZES[outlet]
    for size, limit, elbow in zip(sizes, longest, elbows, strict=True):
        pipe = thermal_expansion.discharge_pipe(outlet, limit - elbow, 1)
        assert (pipe.before_tundish, pipe.after_tundish) == pytest.approx((before / 1000, size / 1000))
        assert (pipe.allowed, pipe.resistance) == pytest.approx((limit, limit))


@pytest.mark.evidence("published", "thermal_expansion.discharge_pipe")
@pytest.mark.parametrize(("outlet", "length", "elbows", "size", "resistance"), EXAMPLES)
def test_worked_examples(outlet, length, elbows, size, resistance):
    pipe = thermal_expansion.discharge_pipe(outlet, length, elbows)
    assert pipe.after_tundish == pytest.approx(size / 1000)
    assert pipe.resistance == pytest.approx(resistance)
    assert length + elbows * table("discharge_pipe")["valves"][outlet]["after"][0][2] > 9.0


def test_geometry_of_the_tundish():
    # 600 mm in the current edition and in the Water Regulations Guide G19.3, 500 mm in older ones: ours is 600.
    assert table("discharge_pipe")["tundish"] == TUNDISH
