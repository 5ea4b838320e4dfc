"""SciPy's isotonic_regression: an independent library that does the sum of [Busing 2022]."""

import numpy as np
import pytest
from scipy.optimize import isotonic_regression

from tlib.stratification import merge_inversions


@pytest.mark.evidence("published", "stratification.merge_inversions")
@pytest.mark.parametrize("size", [1, 2, 3, 20, 50, 100])
def test_merged_layers_of_equal_mass(size):
    random = np.random.default_rng(size)
    for stir in (0.5, 5.0, 50.0):
        layers = np.linspace(20.0, 80.0, size) + stir * random.standard_normal(size)
        column = layers.copy()
        merge_inversions(column)
        assert column == pytest.approx(isotonic_regression(layers).x, abs=1e-11)
