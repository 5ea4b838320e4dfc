"""[EN ISO 9806], steady-state efficiency: worked examples, and its roots by numpy."""

import numpy as np
import pytest

from tlib import solar_radiation

# Light W/m2, excess K, eta0, a1, a2 / efficiency
EXAMPLES = [
    (1000, 50, 0.80, 3.0, 0.000, 0.65),  # worked example in a public solar forum
    (800, 40, 0.78, 3.5, 0.015, 0.575),  # the standard's form; number by arithmetic
]


@pytest.mark.evidence(
    "published",
    "solar_radiation.collector_efficiency",
    "solar_radiation.collector_gain",
    "solar_radiation.bare_collector_gain",
)
@pytest.mark.parametrize(("light", "excess", "eta0", "a1", "a2", "printed"), EXAMPLES)
def test_efficiency(light, excess, eta0, a1, a2, printed):
    assert solar_radiation.collector_efficiency(light, excess, eta0, a1, a2) == pytest.approx(printed, abs=1e-9)
    assert solar_radiation.collector_gain(light, excess, eta0, a1, a2) == pytest.approx(printed * light, abs=1e-6)
    assert solar_radiation.bare_collector_gain(light, excess, eta0, a1, a2) == pytest.approx(printed * light, abs=1e-6)


@pytest.mark.evidence("published", "solar_radiation.stagnation_excess", "solar_radiation.critical_irradiance")
@pytest.mark.parametrize("light", [120.0, 500.0, 1000.0])
@pytest.mark.parametrize(("eta0", "a1", "a2"), [(0.78, 3.5, 0.012), (0.72, 1.2, 0.008), (0.8, 3.6, 0.014)])
def test_no_gain_where_numpy_finds_the_root(light, eta0, a1, a2):
    excess = max(np.roots([a2, a1, -eta0 * light]))
    assert solar_radiation.stagnation_excess(light, eta0, a1, a2) == pytest.approx(excess, rel=1e-12)
    assert solar_radiation.critical_irradiance(excess, eta0, a1, a2) == pytest.approx(light, rel=1e-12)
