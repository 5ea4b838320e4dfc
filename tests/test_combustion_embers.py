"""Embers: limits, what adds up, and the same numbers compiled."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tlib import combustion

HOUR = 3600.0


@pytest.mark.evidence("limit", "combustion.burnt_share_with_embers", "combustion.time_scale_with_embers")
@pytest.mark.parametrize("shape", [1.0, 1.2, 1.8, 4.0])
@pytest.mark.parametrize("embers", [0.0, 0.05, 0.3, 1.0])
@pytest.mark.parametrize("slower", [1.0, 2.0, 10.0])
def test_nothing_has_burnt_at_first_all_at_last_and_95_per_cent_at_the_burn_time(shape, embers, slower):
    scale = combustion.time_scale_with_embers(3 * HOUR, shape, embers, slower)
    shares = combustion.burnt_share_with_embers([0.0, 3 * HOUR, 1e9], scale, shape, embers, slower)
    assert shares == pytest.approx([0.0, 0.95, 1.0], abs=1e-12)


@pytest.mark.evidence("limit", "combustion.burnt_share_with_embers", "combustion.time_scale_with_embers")
def test_without_embers_the_plain_burn_is_left():
    ages, shapes = np.linspace(0.0, 5 * HOUR, 50), np.array([[1.0], [1.8], [4.0]])
    scales = combustion.time_scale(3 * HOUR, shapes)
    assert np.array_equal(combustion.time_scale_with_embers(3 * HOUR, shapes, embers=0.0), scales)
    assert np.array_equal(
        combustion.burnt_share_with_embers(ages, scales, shapes, embers=0.0),
        combustion.burnt_share(ages, scales, shapes),
    )


@pytest.mark.evidence("conservation", "combustion.burnt_share_with_embers", "combustion.time_scale_with_embers")
@settings(deadline=None)
@given(
    steps=st.lists(st.floats(1.0, 3000.0), min_size=1, max_size=30),
    shape=st.floats(1.0, 4.0),
    embers=st.floats(0.0, 1.0),
    slower=st.floats(1.0, 10.0),
)
def test_the_parts_of_a_burn_add_up_to_the_whole_at_any_step(steps, shape, embers, slower):
    ages = np.concatenate([[0.0], np.cumsum(steps)])
    scale = combustion.time_scale_with_embers(2 * HOUR, shape, embers, slower)
    shares = combustion.burnt_share_with_embers(ages, scale, shape, embers, slower)
    parts = 50e6 * np.diff(shares)
    assert np.all(parts >= 0.0)
    assert parts.sum() == pytest.approx(50e6 * shares[-1], rel=1e-12)


def test_of_two_fires_with_one_burn_time_the_one_with_embers_is_fiercer_first_and_warmer_last():
    ages = np.array([0.5, 1.0, 4.0, 6.0]) * HOUR
    plain = combustion.burnt_share(ages, combustion.time_scale(3 * HOUR))
    embers = combustion.burnt_share_with_embers(ages, combustion.time_scale_with_embers(3 * HOUR))
    assert np.all(embers[:2] > plain[:2])
    assert np.all(embers[2:] < plain[2:])


def test_a_longer_burn_time_stretches_the_curve_and_nothing_else():
    scales = combustion.time_scale_with_embers([2 * HOUR, 4 * HOUR])
    short, long = combustion.burnt_share_with_embers([0.75 * HOUR, 1.5 * HOUR], scales)
    assert long == pytest.approx(short, rel=1e-12)


def test_the_kernels_run_compiled_with_the_same_numbers(tmp_path, monkeypatch):
    from tlib.combustion import embers
    from tlib.compiled import engine

    monkeypatch.setenv("TLIB_CACHE", str(tmp_path))
    for function, arguments in (
        (embers.bare_burnt_share_with_embers, (5400.0, 3300.0, 1.8, 0.3, 2.0)),
        (embers.bare_time_scale_with_embers, (10800.0, 1.8, 0.3, 2.0)),
    ):
        assert engine(function)(*arguments) == pytest.approx(function(*arguments), rel=1e-12)
