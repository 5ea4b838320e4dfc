"""EN 442: radiators at other temperatures. Obtained: a correction table that radiator catalogues print, and the
standard regime, read on several pages. Grade A."""

import numpy as np
import pytest

from tlib import heat_transfer

FACTORS = {  # excess [K]: output as a share of that at 50 K, exponent 1.3
    5: 0.050, 10: 0.123, 15: 0.209, 20: 0.304, 25: 0.406, 30: 0.515, 35: 0.629, 40: 0.748, 45: 0.872, 50: 1.000,
    55: 1.132, 60: 1.267, 65: 1.406, 70: 1.549, 75: 1.694,
}  # fmt: skip
REGIME = (75.0, 65.0, 20.0)
LOWER = (55.0, 45.0, 20.0)


@pytest.mark.evidence("published", "heat_transfer.radiator_output", "heat_transfer.radiator_size")
@pytest.mark.parametrize("excess", FACTORS)
def test_correction_table(excess):
    assert heat_transfer.radiator_output(1.0, excess) == pytest.approx(FACTORS[excess], abs=0.0006)
    assert 1 / heat_transfer.radiator_size(1.0, excess) == pytest.approx(FACTORS[excess], abs=0.0006)


@pytest.mark.evidence("published", "heat_transfer.arithmetic_excess", "heat_transfer.log_mean_excess")
def test_standard_regime_by_both_means():
    assert heat_transfer.arithmetic_excess(*REGIME) == pytest.approx(50.0, abs=0.001)
    assert heat_transfer.log_mean_excess(*REGIME) == pytest.approx(49.833, abs=0.001)


@pytest.mark.evidence("published", "heat_transfer.log_mean_excess", "heat_transfer.radiator_output")
def test_the_two_conventions_differ_by_less_than_a_hundredth():
    # Taught sums take the arithmetic mean, the simulation the logarithmic one.
    logarithmic = (heat_transfer.log_mean_excess(*LOWER) / heat_transfer.log_mean_excess(*REGIME)) ** 1.3
    arithmetic = heat_transfer.radiator_output(1.0, heat_transfer.arithmetic_excess(*LOWER))
    assert logarithmic == pytest.approx(0.5107, abs=0.0005)
    assert arithmetic == pytest.approx(0.5148, abs=0.0005)


@pytest.mark.evidence("published", "heat_transfer.radiator_return")
def test_a_radiator_at_the_standard_regime_returns_at_65():
    # 1000 W at 75/65/20 takes 100 W/K of water; the rating counts 50 K, the log mean is 49.833 K.
    rated = 1000.0 * (50.0 / 49.833) ** 1.3
    assert heat_transfer.radiator_return(rated, 75.0, 20.0, 100.0) == pytest.approx(65.0, abs=0.001)
    assert np.ndim(heat_transfer.radiator_return(rated, 75.0, 20.0, 100.0)) == 0
