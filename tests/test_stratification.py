"""Layers in order, and the measures of how well they keep apart: limits, conservation, errors."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays

from tlib.compiled import engine
from tlib.stratification import merge_inversions

EXCUSED = [
    ("error", "stratification.merge_inversions", "a kernel of the engine checks nothing; merged does"),
]

profiles = arrays(float, st.integers(1, 60), elements=st.floats(4.0, 110.0))


def ordered(layers, run=merge_inversions):
    column = np.array(layers, dtype=float)
    mixed = run(column, np.empty(len(column)), np.empty(len(column), dtype=np.int64))
    return column, mixed


@pytest.mark.evidence("limit", "stratification.merge_inversions")
@given(profiles)
def test_a_column_in_order_is_left_alone_to_the_last_bit(layers):
    stable = np.sort(layers)
    column, mixed = ordered(stable)
    assert mixed == 0
    assert column.tolist() == stable.tolist()


@pytest.mark.evidence("limit", "stratification.merge_inversions")
def test_heat_at_the_very_bottom_of_a_uniform_column_mixes_all():
    column, mixed = ordered([60.0] + [40.0] * 9)
    assert mixed == 10
    assert column == pytest.approx(42.0, rel=1e-15)


@pytest.mark.evidence("conservation", "stratification.merge_inversions")
@given(profiles)
def test_merging_keeps_the_heat_orders_the_column_and_is_done_once(layers):
    column, _ = ordered(layers)
    assert column.sum() == pytest.approx(layers.sum(), rel=1e-13)
    assert np.all(np.diff(column) >= -1e-12)
    again, mixed = ordered(column)
    assert mixed == 0
    assert again.tolist() == column.tolist()


@given(profiles)
def test_only_layers_that_an_inversion_reaches_are_changed(layers):
    column, mixed = ordered(layers)
    assert np.count_nonzero(column != layers) <= mixed


def test_rounding_is_no_inversion():
    hair = [50.0, 50.0 - 5e-13]
    assert ordered(hair)[0].tolist() == hair
    assert ordered([50.0, 50.0 - 5e-12])[1] == 2


def test_the_compiled_merge_is_the_plain_one_to_the_last_bit(tmp_path, monkeypatch):
    monkeypatch.setenv("TLIB_CACHE", str(tmp_path))
    fast, random = engine(merge_inversions), np.random.default_rng(4)
    for size in (1, 2, 12, 50, 100):
        for _ in range(50):
            layers = np.sort(random.uniform(5.0, 95.0, size)) + random.choice([0.0, 3.0], size)
            plain, compiled = ordered(layers), ordered(layers, fast)
            assert compiled[1] == plain[1]
            assert compiled[0].tolist() == plain[0].tolist()
