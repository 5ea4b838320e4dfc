"""Expansion: limits, balances and symmetries, whatever the numbers."""

from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tlib import thermal_expansion as expansion
from tlib import water_properties
from tlib.tables import table

AIR = 101_325.0
litres = st.floats(0.0001, 0.05)
vessels = st.floats(0.008, 0.5)
charges = st.floats(1.1e5, 3e5)

EXCUSED = [
    ("conservation", "thermal_expansion.water_reserve", "a rule of thumb for a reserve, which keeps nothing"),
    ("error", "thermal_expansion.vessel_pressure", "a bare kernel, whose callers have checked its numbers"),
]


@pytest.mark.evidence("limit", "thermal_expansion.expanded_fraction", "thermal_expansion.expansion_volume")
def test_water_that_is_not_warmed_does_not_grow_and_ice_cold_water_shrinks_first():
    assert expansion.expanded_fraction(10.0, 10.0) == 0.0
    assert expansion.expansion_volume(0.4, 10.0, 10.0) == 0.0
    assert expansion.expansion_volume(0.0, 10.0, 90.0) == 0.0
    assert expansion.expanded_fraction(0.5, 4.0) < 0


@pytest.mark.evidence("conservation", "thermal_expansion.expanded_fraction", "thermal_expansion.expansion_volume")
@settings(deadline=None)
@given(st.floats(1.0, 95.0), st.floats(1.0, 95.0), st.floats(1.0, 95.0), st.floats(0.05, 1.0))
def test_the_mass_stays_and_two_warmings_are_one(first, second, third, volume):
    step = (1 + expansion.expanded_fraction(first, second)) * (1 + expansion.expanded_fraction(second, third))
    assert step == pytest.approx(1 + expansion.expanded_fraction(first, third), rel=1e-12)
    hot_volume = volume + expansion.expansion_volume(volume, first, third)
    mass = hot_volume * water_properties.density(third)
    assert mass == pytest.approx(volume * water_properties.density(first), rel=1e-12)


@settings(deadline=None)
@given(st.floats(5.0, 95.0), st.floats(5.0, 95.0))
def test_hotter_water_grows_more(one, other):
    low, high = sorted((one, other))
    grown = expansion.expanded_fraction(5.0, [low, high])
    assert grown[0] <= grown[1]


@pytest.mark.evidence("limit", "thermal_expansion.static_pressure", "thermal_expansion.water_reserve")
def test_nothing_above_presses_nothing_and_the_least_reserve_is_three_litres():
    assert expansion.static_pressure(0.0) == 0.0
    assert expansion.water_reserve(0.0) == 0.003
    assert expansion.water_reserve(0.600) == pytest.approx(0.003)
    assert expansion.water_reserve([0.4, 1.2]).tolist() == pytest.approx([0.003, 0.006])


@pytest.mark.evidence("conservation", "thermal_expansion.static_pressure")
@settings(deadline=None)
@given(st.floats(0.0, 30.0), st.floats(0.0, 30.0))
def test_columns_stand_on_each_other(lower, upper):
    together = expansion.static_pressure(lower) + expansion.static_pressure(upper, 1000.0)
    assert expansion.static_pressure(lower + upper) == pytest.approx(together)


@pytest.mark.evidence("limit", "thermal_expansion.acceptance_factor", "thermal_expansion.vessel_content")
def test_a_vessel_at_its_charge_holds_nothing_and_far_above_it_all():
    assert expansion.acceptance_factor(2e5, 2e5) == 0.0
    assert expansion.acceptance_factor(2e5, 2e12) == pytest.approx(1.0)
    assert expansion.vessel_content(0.05, 2e5, 2e5) == 0.0
    assert expansion.vessel_content(0.05, 2e5, 2e12) == pytest.approx(0.05)


@pytest.mark.evidence("conservation", "thermal_expansion.acceptance_factor")
@settings(deadline=None)
@given(charges, st.floats(0.0, 2e5), st.floats(0.0, 2e5))
def test_gas_left_is_pressed_step_by_step_as_at_once(low, first, second):
    steps = (1 - expansion.acceptance_factor(low, low + first)) * (
        1 - expansion.acceptance_factor(low + first, low + first + second)
    )
    assert 1 - steps == pytest.approx(expansion.acceptance_factor(low, low + first + second), abs=1e-12)


@pytest.mark.evidence("limit", "thermal_expansion.sealed_vessel", "thermal_expansion.solar_vessel")
def test_a_vessel_for_nothing_and_one_with_all_the_pressure_in_the_world():
    assert expansion.sealed_vessel(0.0, 0.0, 2e5, 3e5) == 0.0
    assert expansion.sealed_vessel(0.013, 0.003, 2e5, 2e12) == pytest.approx(0.016)
    assert expansion.solar_vessel(0.002, 0.003, 0.0, 2e5, 3e5) == expansion.sealed_vessel(0.002, 0.003, 2e5, 3e5)


@pytest.mark.evidence("conservation", "thermal_expansion.sealed_vessel", "thermal_expansion.solar_vessel")
@settings(deadline=None)
@given(litres, litres, litres, charges, st.floats(2e4, 3e5))
def test_a_vessel_of_the_least_size_just_reaches_the_top_pressure(growth, reserve, collector, charge, span):
    least = expansion.sealed_vessel(growth, reserve, charge, charge + span)
    assert expansion.hot_pressure(least, reserve, growth, charge) == pytest.approx(charge + span, rel=1e-9)
    solar = expansion.solar_vessel(growth, reserve, collector, charge, charge + span)
    assert expansion.vessel_content(solar, charge, charge + span) == pytest.approx(growth + reserve + collector)


def test_gauge_pressures_in_the_formula_make_a_vessel_that_is_too_small():
    right = expansion.sealed_vessel(0.0132, 0.003, 0.8e5 + AIR, 2.5e5 + AIR)
    slip = expansion.sealed_vessel(0.0132, 0.003, 0.8e5, 2.5e5)
    assert slip < 0.75 * right


@pytest.mark.evidence("limit", "thermal_expansion.next_stock_size")
@pytest.mark.evidence("conservation", "thermal_expansion.next_stock_size")
def test_a_size_on_the_list_is_kept_and_anything_over_it_takes_the_next():
    sizes = table("expansion_vessels")["sizes"]
    assert expansion.next_stock_size(sizes).tolist() == sizes  # applied twice, it changes nothing
    assert expansion.next_stock_size(1e-6) == 0.008
    for size, larger in pairwise(sizes):
        assert expansion.next_stock_size(np.nextafter(size, 1)) == larger


@pytest.mark.evidence("limit", "thermal_expansion.fill_pressure", "thermal_expansion.hot_pressure")
@pytest.mark.evidence("limit", "thermal_expansion.vessel_pressure")
def test_a_vessel_without_water_is_at_its_charge():
    assert expansion.fill_pressure(0.05, 0.0, 2e5) == 2e5
    assert expansion.hot_pressure(0.05, 0.0, 0.0, 2e5) == 2e5
    assert expansion.vessel_pressure(0.05, 0.0, 2e5) == 2e5
    assert expansion.hot_pressure(0.05, 0.003, 0.046999, 2e5) > 1e9


@pytest.mark.evidence("conservation", "thermal_expansion.fill_pressure", "thermal_expansion.hot_pressure")
@pytest.mark.evidence("conservation", "thermal_expansion.vessel_pressure", "thermal_expansion.vessel_content")
@settings(deadline=None)
@given(vessels, st.floats(0.0, 0.3), st.floats(0.0, 0.6), charges)
def test_pressure_times_gas_stays(vessel, reserve_share, growth_share, charge):
    reserve, growth = vessel * reserve_share, vessel * growth_share
    cold = expansion.fill_pressure(vessel, reserve, charge)
    hot = expansion.hot_pressure(vessel, reserve, growth, charge)
    assert cold * (vessel - reserve) == pytest.approx(charge * vessel)
    assert hot * (vessel - reserve - growth) == pytest.approx(charge * vessel)
    assert expansion.vessel_content(vessel, charge, hot) == pytest.approx(reserve + growth, abs=1e-12)
    assert expansion.vessel_pressure(vessel, reserve + growth, charge) == hot


@pytest.mark.evidence("limit", "thermal_expansion.flat_vessel_pressure")
def test_a_vessel_that_lost_nothing_reads_as_a_good_one():
    cold = expansion.fill_pressure(0.05, 0.004, 2e5)
    good = expansion.hot_pressure(0.05, 0.004, 0.013, 2e5)
    assert expansion.flat_vessel_pressure(0.05, 0.013, cold, left_pressure=2e5) == pytest.approx(good)
    assert expansion.flat_vessel_pressure(0.05, 0.0, cold) == pytest.approx(cold)
    assert expansion.flat_vessel_pressure(0.05, 0.013, cold) > good


@pytest.mark.evidence("conservation", "thermal_expansion.flat_vessel_pressure", "thermal_expansion.relief_spill")
@settings(deadline=None)
@given(vessels, st.floats(0.05, 1.0), st.floats(1.3e5, 2.5e5), st.floats(1.0e4, 2e5))
def test_what_a_flat_vessel_cannot_take_is_what_the_valve_lets_out(vessel, share, cold, span):
    relief = cold + span
    gas = vessel * AIR / cold
    growth = gas * share * 0.9
    spill = expansion.relief_spill(vessel, growth, AIR, cold, relief)
    kept = growth - spill
    assert 0 <= spill <= growth
    reached = expansion.flat_vessel_pressure(vessel, kept, cold)
    assert reached <= relief * (1 + 1e-9)
    if spill > 0:
        assert reached == pytest.approx(relief)  # the valve opens at its setting and lets out just the rest


@pytest.mark.evidence("limit", "thermal_expansion.relief_spill")
def test_a_big_vessel_spills_nothing_and_a_useless_one_all():
    assert expansion.relief_spill(0.5, 0.013, 1.8e5, 2.1e5, 4e5) == 0.0
    assert expansion.relief_spill(0.05, 0.013, 1.8e5, 4e5, 4e5) == pytest.approx(0.013)


@pytest.mark.evidence("limit", "thermal_expansion.cistern_allowance", "thermal_expansion.cistern_rise")
@pytest.mark.evidence("limit", "thermal_expansion.vent_height")
def test_an_empty_system_needs_no_room_and_a_vent_still_rises():
    assert expansion.cistern_allowance(0.0) == 0.0
    assert expansion.cistern_rise(0.0, 0.2) == 0.0
    assert expansion.vent_height(0.0) == 0.150


@pytest.mark.evidence("conservation", "thermal_expansion.cistern_allowance", "thermal_expansion.cistern_rise")
@pytest.mark.evidence("conservation", "thermal_expansion.vent_height")
@settings(deadline=None)
@given(st.floats(0.0, 1.0), st.floats(0.0, 1.0), st.floats(0.05, 1.0))
def test_what_leaves_the_system_stands_in_the_cistern(one, other, area):
    both = expansion.cistern_allowance(one) + expansion.cistern_allowance(other)
    assert expansion.cistern_allowance(one + other) == pytest.approx(both)
    assert expansion.cistern_rise(both, area) * area == pytest.approx(both)
    middle = expansion.vent_height((one + other) / 2)
    assert middle == pytest.approx((expansion.vent_height(one) + expansion.vent_height(other)) / 2)


@pytest.mark.evidence("limit", "thermal_expansion.relief_capacity")
def test_no_heat_no_steam_and_near_boiling_at_air_pressure_the_textbook_latent_heat():
    assert expansion.relief_capacity(0.0, 4e5) == 0.0
    assert 2.2565e6 * expansion.relief_capacity(1.0, 101_325.0) == pytest.approx(1.0, rel=1e-3)


@pytest.mark.evidence("conservation", "thermal_expansion.relief_capacity")
@settings(deadline=None)
@given(st.floats(0.0, 1e5), st.floats(0.0, 1e5), st.floats(1e5, 1.2e6))
def test_two_sources_make_the_steam_of_both(one, other, pressure):
    both = expansion.relief_capacity(one, pressure) + expansion.relief_capacity(other, pressure)
    assert expansion.relief_capacity(one + other, pressure) == pytest.approx(both)


@pytest.mark.evidence("limit", "thermal_expansion.discharge_pipe")
def test_the_shortest_run_and_a_run_at_its_limit():
    shortest = expansion.discharge_pipe("G1/2", 0.0, 0)
    assert (shortest.after_tundish, shortest.resistance) == (0.022, 0.0)
    assert expansion.discharge_pipe("G1/2", 9.0, 0).after_tundish == 0.022
    assert expansion.discharge_pipe("G1/2", np.nextafter(9.0, 10.0), 0).after_tundish == 0.028
    assert expansion.discharge_pipe("G1", 27.0, 0).after_tundish == 0.054


@pytest.mark.evidence("conservation", "thermal_expansion.discharge_pipe")
@settings(deadline=None)
@given(st.floats(0.0, 12.0), st.integers(0, 5), st.sampled_from(["G1/2", "G3/4", "G1"]))
def test_an_elbow_counts_as_so_much_straight_pipe_and_more_run_never_takes_a_smaller_one(length, elbows, outlet):
    pipe = expansion.discharge_pipe(outlet, length, elbows)
    each = next(each for size, _, each in table("discharge_pipe")["valves"][outlet]["after"]
                if size == pipe.after_tundish)  # fmt: skip
    assert pipe.resistance == pytest.approx(length + elbows * each)
    assert pipe.resistance <= pipe.allowed
    assert pipe.before_tundish < pipe.after_tundish
    assert expansion.discharge_pipe(outlet, length + 2.0, elbows).after_tundish >= pipe.after_tundish


def test_taught_sums_of_the_course_hold_with_the_air_counted_as_it_is():
    # Hand sums add 1 bar for the air, the library 1.01325; worked by hand, each printed figure within 2 %.
    growth = expansion.expansion_volume(0.410, 10.0, 85.0)
    assert 1000 * growth == pytest.approx(13.2, abs=0.05)
    least = expansion.sealed_vessel(growth, 0.003, 0.8e5 + AIR, 2.5e5 + AIR)
    assert 1000 * least == pytest.approx(33.3, rel=0.02)
    assert 1000 * expansion.next_stock_size(least) == pytest.approx(35.0)
    assert (expansion.fill_pressure(0.035, 0.003, 0.8e5 + AIR) - AIR) / 1e5 == pytest.approx(0.97, abs=0.01)
    assert (expansion.hot_pressure(0.035, 0.003, growth, 0.8e5 + AIR) - AIR) / 1e5 == pytest.approx(2.34, rel=0.02)
    hottest = expansion.expansion_volume(0.410, 10.0, 95.0)
    assert 1000 * hottest == pytest.approx(16.1, abs=0.05)
    assert (expansion.hot_pressure(0.035, 0.003, hottest, 0.8e5 + AIR) - AIR) / 1e5 == pytest.approx(2.97, rel=0.02)
    assert (expansion.hot_pressure(0.050, 0.003, hottest, 0.8e5 + AIR) - AIR) / 1e5 == pytest.approx(1.91, rel=0.02)
    filled = expansion.vessel_content(0.050, 0.8e5 + AIR, 1.1e5 + AIR)
    assert 1000 * filled == pytest.approx(7.1, abs=0.1)
    assert (expansion.hot_pressure(0.050, filled, hottest, 0.8e5 + AIR) - AIR) / 1e5 == pytest.approx(2.37, rel=0.02)


def test_arrays_broadcast_and_scalars_stay_scalars():
    assert expansion.hot_pressure([0.035, 0.05], 0.003, [[0.01], [0.013]], 2e5).shape == (2, 2)
    assert expansion.relief_spill([0.035, 0.05], 0.013, 1.8e5, 2.1e5, 4e5).shape == (2,)
    for answer in (expansion.expanded_fraction(10.0, 85.0), expansion.next_stock_size(0.02),
                   expansion.water_reserve(0.4), expansion.relief_spill(0.035, 0.016, 1.8e5, 2.1e5, 4e5),
                   expansion.flat_vessel_pressure(0.05, 0.01, 2e5)):  # fmt: skip
        assert np.ndim(answer) == 0


def test_the_bare_gas_law_runs_compiled_with_the_same_number(tmp_path, monkeypatch):
    from tlib.compiled import engine

    monkeypatch.setenv("TLIB_CACHE", str(tmp_path))
    assert engine(expansion.vessel_pressure)(0.05, 0.013, 2e5) == expansion.vessel_pressure(0.05, 0.013, 2e5)
