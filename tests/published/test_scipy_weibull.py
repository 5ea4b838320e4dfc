"""scipy: the Weibull distribution and a root finder of its own. Obtained: the library, at test time. Grade B.

The library holds the two-term formula to the distribution it names; that logs burn like this is our model.
"""

import numpy as np
import pytest
from scipy.optimize import brentq
from scipy.stats import weibull_min

from tlib import combustion

CASES = [(1.0, 0.3, 2.0), (1.8, 0.3, 2.0), (1.8, 0.1, 4.0), (4.0, 0.7, 10.0)]  # shape, embers, slower


def burnt(age, scale, shape, embers, slower):
    flames, glow = weibull_min(shape, scale=scale), weibull_min(1.2, scale=slower * scale)
    return (1 - embers) * flames.cdf(age) + embers * glow.cdf(age)


@pytest.mark.evidence("published", "combustion.burnt_share_with_embers")
@pytest.mark.parametrize("case", CASES)
def test_two_terms(case):
    ages = np.linspace(0.0, 20_000.0, 21)
    assert combustion.burnt_share_with_embers(ages, 3000.0, *case) == pytest.approx(
        burnt(ages, 3000.0, *case), rel=1e-12, abs=1e-15
    )


@pytest.mark.evidence("published", "combustion.time_scale_with_embers")
@pytest.mark.parametrize("case", CASES)
def test_time_scale(case):
    theirs = brentq(lambda scale: burnt(10_800.0, scale, *case) - 0.95, 10.0, 50_000.0, xtol=1e-9)
    assert combustion.time_scale_with_embers(10_800.0, *case) == pytest.approx(theirs, rel=1e-10)
