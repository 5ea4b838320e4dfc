"""Layers come to rest in order: the engine's kernel and the public function, limits, conservation, errors."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays

from tlib.compiled import engine
from tlib.stratification import merge_inversions, merged
from tlib.validation import OutOfRange

EXCUSED = [
    ("error", "stratification.merge_inversions", "a kernel of the engine checks nothing; merged does"),
    (
        "conservation",
        "stratification.thermocline_thickness",
        "a length read off a profile; its symmetry is a limit test",
    ),
]

profiles = arrays(float, st.integers(1, 60), elements=st.floats(4.0, 110.0))


def ordered(layers, run=merge_inversions):
    column = np.array(layers, dtype=float)
    run(column)
    return column


@pytest.mark.evidence("limit", "stratification.merge_inversions")
@given(profiles)
def test_a_column_in_order_is_left_alone_to_the_last_bit(layers):
    stable = np.sort(layers)
    assert ordered(stable).tolist() == stable.tolist()


@pytest.mark.evidence("limit", "stratification.merge_inversions")
def test_heat_at_the_very_bottom_of_a_uniform_column_mixes_all():
    column = ordered([60.0] + [40.0] * 9)
    assert column == pytest.approx(42.0, rel=1e-15)


@pytest.mark.evidence("conservation", "stratification.merge_inversions")
@given(profiles)
def test_merging_keeps_the_heat_orders_the_column_and_is_done_once(layers):
    column = ordered(layers)
    assert column.sum() == pytest.approx(layers.sum(), rel=1e-13)
    assert np.all(np.diff(column) >= -1e-12)
    assert ordered(column).tolist() == column.tolist()


@given(profiles)
def test_only_layers_that_an_inversion_reaches_are_changed(layers):
    column, stands = ordered(layers), np.array(layers)
    untouched = [place for place in range(stands.size)
                 if stands[: place + 1].max() <= stands[place] and stands[place:].min() >= stands[place]]  # fmt: skip
    assert column[untouched].tolist() == stands[untouched].tolist()


def test_rounding_is_no_inversion():
    hair = [50.0, 50.0 - 5e-13]
    assert ordered(hair).tolist() == hair
    assert np.ptp(ordered([50.0, 50.0 - 5e-12])) == 0.0


def test_the_compiled_merge_is_the_plain_one_to_the_last_bit(tmp_path, monkeypatch):
    monkeypatch.setenv("TLIB_CACHE", str(tmp_path))
    fast, random = engine(merge_inversions), np.random.default_rng(4)
    for size in (1, 2, 12, 50, 100):
        for _ in range(50):
            layers = np.sort(random.uniform(5.0, 95.0, size)) + random.choice([0.0, 3.0], size)
            plain, compiled = ordered(layers), ordered(layers, fast)
            assert compiled.tolist() == plain.tolist()


# --- merged: masses, leading axes, and water below 4 °C ---


@pytest.mark.evidence("limit", "stratification.merged")
@given(profiles)
def test_equal_masses_come_to_rest_as_the_kernel_does(layers):
    assert merged(layers) == pytest.approx(ordered(layers), abs=2e-12)
    assert merged(layers, mass=7.0) == pytest.approx(merged(layers), rel=1e-13)


@pytest.mark.evidence("limit", "stratification.merged")
def test_ice_cold_water_floats_on_water_at_4_degrees():
    assert merged([4.0, 2.0, 0.0]).tolist() == [4.0, 2.0, 0.0]
    assert merged([0.0, 4.0]).tolist() == [2.0, 2.0]
    assert merged([9.0, 1.0]).tolist() == [5.0, 5.0]
    assert merged([1.0, 9.0]).tolist() == [1.0, 9.0]
    assert merged([1.0, 60.0]).tolist() == [1.0, 60.0]
    assert merged([60.0, 1.0]).tolist() == [30.5, 30.5]


@pytest.mark.evidence("conservation", "stratification.merged")
@given(arrays(float, (3, 12), elements=st.floats(0.0, 100.0)), arrays(float, 12, elements=st.floats(0.5, 50.0)))
def test_coming_to_rest_keeps_the_heat_of_each_column(columns, mass):
    rested = merged(columns, mass)
    assert (rested * mass).sum(axis=-1) == pytest.approx((columns * mass).sum(axis=-1), rel=1e-12, abs=1e-9)
    assert merged(rested, mass) == pytest.approx(rested, abs=1e-11)
    for column, alone in zip(columns, rested, strict=True):
        assert merged(column, mass).tolist() == alone.tolist()


def test_two_zones_that_swap_places_mix():
    """250 l at 80 °C under 750 l at 20 °C: 35 °C, as a public teaching text on stratification prints it."""
    assert merged([80.0, 20.0], mass=[250.0, 750.0]) == pytest.approx(35.0, abs=0.05)


def test_merging_leaves_the_array_it_was_given_alone():
    given_layers = np.array([60.0, 20.0])
    merged(given_layers)
    assert given_layers.tolist() == [60.0, 20.0]


@pytest.mark.evidence("error", "stratification.merged")
@pytest.mark.parametrize(
    ("layers", "mass", "says"),
    [
        ([20.0, -0.5], None, "layers must be 0 °C or more; got -0.5 at place 1"),
        ([20.0, np.nan], None, "layers must be a finite number; got nan at place 1"),
        (40.0, None, "layers must be a list of temperatures; got the single number 40"),
        ([20.0, 30.0], [1.0, 0.0], "mass must be above 0 kg; got 0 at place 1"),
        ([20.0, 30.0], [1.0, np.inf], "mass must be a finite number; got inf at place 1"),
    ],
)
def test_merged_refuses(layers, mass, says):
    with pytest.raises(OutOfRange, match=says):
        merged(layers, mass)


@pytest.mark.evidence("error", "stratification.merged")
def test_masses_must_fit_the_layers():
    with pytest.raises(ValueError, match="broadcast"):
        merged([20.0, 30.0], [1.0, 2.0, 3.0])
