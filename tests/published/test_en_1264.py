"""EN 1264 and ISO 11855-2: heated floors. Obtained: equation 1 of ISO 11855-2, which is the basic curve of EN 1264-2,
in two unrelated public programs; surface limits on several pages. Grade A."""

import pytest

from tlib import heat_transfer

# 8.92 (surface - room)^1.1 at the two limits, as the trade rounds it: 100 W/m2 occupied, 175 W/m2 at the edge.
OUTPUTS = [(9.0, 100.0), (15.0, 175.0)]
LIMITS = {"occupied": 29.0, "edge": 35.0, "bathroom": 33.0}


@pytest.mark.evidence("published", "heat_transfer.floor_output", "heat_transfer.floor_surface_excess")
@pytest.mark.parametrize(("excess", "printed"), OUTPUTS)
def test_output_at_the_limits(excess, printed):
    assert heat_transfer.floor_output(excess) == pytest.approx(printed, abs=0.6)
    assert heat_transfer.floor_surface_excess(printed) == pytest.approx(excess, abs=0.05)


@pytest.mark.evidence("published", "heat_transfer.floor_surface_limits")
def test_surface_limits_and_the_one_on_which_sources_differ():
    assert heat_transfer.floor_surface_limits(room=20.0, bathroom=24.0) == LIMITS
    # One source allows 15 K in wet rooms; this package keeps to 9 K above 24 °C.
    assert LIMITS["bathroom"] < 24.0 + 15.0
