"""Incropera and others, Fundamentals of Heat and Mass Transfer: worked examples and tables.

Obtained: results named by the documentation of the library ht beside its own; grade A.
"""

import pytest

from tlib import heat_transfer

EXAMPLE_11_1 = (100.0, 60.0, 30.0, 40.2, 43.2)  # hot in, hot out, cold in, cold out [°C]; log mean [K]
EXAMPLE_9_2 = (2.63e9, 0.69, 147.0)  # Grashof, Prandtl, Nusselt number on a vertical plate
TABLE_8_1_ONE_WALL_TEMPERATURE = 3.66


@pytest.mark.evidence("published", "heat_transfer.log_mean_difference")
def test_example_11_1_log_mean_difference():
    *ends, printed = EXAMPLE_11_1
    assert heat_transfer.log_mean_difference(*ends) == pytest.approx(printed, abs=0.05)


@pytest.mark.evidence("published", "heat_transfer.nusselt_vertical_wall")
def test_example_9_2_vertical_plate():
    grashof, prandtl, printed = EXAMPLE_9_2
    assert heat_transfer.nusselt_vertical_wall(grashof * prandtl, prandtl) == pytest.approx(printed, abs=0.5)


@pytest.mark.evidence("published", "heat_transfer.nusselt_in_tube")
def test_table_8_1_laminar_tube():
    assert heat_transfer.nusselt_in_tube(1000.0, 5.0) == pytest.approx(TABLE_8_1_ONE_WALL_TEMPERATURE, abs=0.005)


@pytest.mark.evidence("published", "heat_transfer.nusselt_dittus_boelter")
@pytest.mark.parametrize(("exponent", "printed"), [(0.4, 247.4004), (0.3, 242.9306)])
def test_equation_8_60_heated_and_cooled(exponent, printed):
    # Values of an independent evaluation (ht 1.2.0) at Reynolds 1e5, Prandtl 1.2; grade B.
    assert heat_transfer.nusselt_dittus_boelter(1e5, 1.2, exponent) == pytest.approx(printed, rel=1e-6)
