"""HeatX: open data of a laboratory exchanger, in the R package mosaicData.

Obtained: the listing, read. Grade A. Trial 1 has equal differences at both ends, the case nought over nought.
"""

import pytest

from tlib import heat_transfer

TRIAL_1 = (38.2, 33.9, 14.3, 18.6)  # hot in, hot out, cold in, cold out [°C]; both flows 10
TRIAL_4 = (35.8, 31.8, 14.2, 18.4)  # both flows 5


@pytest.mark.evidence("published", "heat_transfer.log_mean_difference")
def test_equal_differences_at_both_ends():
    hot_in, hot_out, cold_in, cold_out = TRIAL_1
    assert heat_transfer.log_mean_difference(*TRIAL_1) == pytest.approx(hot_in - cold_out, abs=1e-9)
    assert hot_in - hot_out == pytest.approx(cold_out - cold_in)


@pytest.mark.evidence("published", "heat_transfer.counterflow_effectiveness")
@pytest.mark.parametrize("trial", [TRIAL_1, TRIAL_4])
def test_effectiveness_of_the_measured_trials(trial):
    # With equal flows, effectiveness = N / (1 + N), and N = rise over log mean: measured against both formulas.
    hot_in, hot_out, cold_in, _ = trial
    units = (hot_in - hot_out) / heat_transfer.log_mean_difference(*trial)
    measured = (hot_in - hot_out) / (hot_in - cold_in)
    assert heat_transfer.counterflow_effectiveness(units, 1.0, 1.0) == pytest.approx(measured, rel=0.01)
