"""Exchangers, coils and films: limits, balances and symmetries, whatever the numbers."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tlib import heat_transfer as heat
from tlib.heat_transfer import Coil

COIL = Coil(length=18.0, bore=0.020, outside=0.022, diameter=0.45)
conductance = st.floats(0.0, 1e4)
rate = st.floats(1.0, 1e4)
celsius = st.floats(0.0, 99.0)

EXCUSED = [
    ("conservation", "heat_transfer.nusselt_dittus_boelter", "one power law, in which nothing is kept or mirrored"),
    ("conservation", "heat_transfer.nusselt_gnielinski", "a correlation of three numbers, in which nothing is kept"),
    ("conservation", "heat_transfer.nusselt_outside_cylinder", "a correlation of two numbers, nothing is kept"),
    ("conservation", "heat_transfer.nusselt_vertical_wall", "a correlation of two numbers, in which nothing is kept"),
    ("error", "heat_transfer.effectiveness_isothermal", "a bare kernel, whose callers have checked its numbers"),
    ("error", "heat_transfer.outlet_isothermal", "a bare kernel, whose callers have checked its numbers"),
]


@pytest.mark.evidence("limit", "heat_transfer.coil_effectiveness", "heat_transfer.effectiveness_isothermal")
def test_no_coil_moves_nothing_and_an_endless_one_all():
    assert heat.coil_effectiveness(0.0, 500.0) == 0.0
    assert heat.coil_effectiveness(1e6, 500.0) == 1.0
    assert heat.effectiveness_isothermal(0.0, 500.0) == 0.0
    small = heat.coil_effectiveness(1e-9, 1.0)  # no digits lost for a tiny coil
    assert small == pytest.approx(1e-9, rel=1e-9)


@pytest.mark.evidence("conservation", "heat_transfer.coil_effectiveness", "heat_transfer.effectiveness_isothermal")
@settings(deadline=None)
@given(conductance, conductance, rate)
def test_two_coils_one_after_another_are_one_coil(first, second, flow):
    left = (1 - heat.coil_effectiveness(first, flow)) * (1 - heat.effectiveness_isothermal(second, flow))
    assert 1 - left == pytest.approx(heat.coil_effectiveness(first + second, flow), abs=1e-12)


@pytest.mark.evidence("limit", "heat_transfer.coil_outlet", "heat_transfer.outlet_isothermal")
def test_outlet_between_inlet_and_store():
    assert heat.coil_outlet(75.0, 10.0, 0.0, 500.0) == 10.0
    assert heat.coil_outlet(75.0, 10.0, 1e6, 500.0) == 75.0
    assert heat.coil_outlet(40.0, 40.0, 900.0, 500.0) == 40.0
    assert heat.outlet_isothermal(75.0, 10.0, 0.0, 500.0) == 10.0


@pytest.mark.evidence("conservation", "heat_transfer.coil_outlet", "heat_transfer.outlet_isothermal")
@settings(deadline=None)
@given(celsius, celsius, conductance, rate, st.floats(-30.0, 30.0))
def test_warming_all_temperatures_alike_warms_the_outlet_alike(store, inlet, ua, flow, shift):
    moved = heat.coil_outlet(store + shift, inlet + shift, ua, flow)
    assert moved == pytest.approx(heat.outlet_isothermal(store, inlet, ua, flow) + shift, abs=1e-9)
    heated, cooled = heat.coil_outlet(store, inlet, ua, flow), heat.coil_outlet(inlet, store, ua, flow)
    assert heated + cooled == pytest.approx(store + inlet, abs=1e-9)  # what one side gains the mirror image loses


@settings(deadline=None)
@given(st.lists(conductance, min_size=2, max_size=5), rate)
def test_more_coil_never_makes_the_water_colder(conductances, flow):
    outlets = heat.coil_outlet(75.0, 10.0, np.sort(conductances), flow)
    assert np.all(np.diff(outlets) >= 0)


@pytest.mark.evidence("limit", "heat_transfer.coil_profile")
@pytest.mark.parametrize("layers", [1, 2, 7, 50])
def test_a_store_of_one_temperature_is_one_exchanger_however_many_layers(layers):
    through = heat.coil_profile(np.full(layers, 60.0), 10.0, np.full(layers, 1500.0 / layers), 627.15)
    assert through[-1] == pytest.approx(heat.coil_outlet(60.0, 10.0, 1500.0, 627.15), abs=1e-12)
    assert through[0] == 10.0
    assert len(through) == layers + 1


def test_no_layers_leave_the_water_as_it_came():
    assert heat.coil_profile([], 12.0, [], 500.0).tolist() == [12.0]


@pytest.mark.evidence("conservation", "heat_transfer.coil_profile")
def test_heat_of_all_layers_is_the_heat_of_the_water():
    layers, conductances, flow = np.array([30.0, 45.0, 80.0]), np.array([200.0, 0.0, 400.0]), 700.0
    through = heat.coil_profile(layers, 10.0, conductances, flow)
    entering = through[:-1]
    from_layers = flow * heat.coil_effectiveness(conductances, flow) * (layers - entering)
    assert from_layers.sum() == pytest.approx(flow * (through[-1] - 10.0), rel=1e-12)
    assert through[2] == through[1]  # no coil in the second layer


@pytest.mark.evidence("limit", "heat_transfer.counterflow_effectiveness")
def test_counterflow_between_nothing_and_everything():
    assert heat.counterflow_effectiveness(0.0, 500.0, 900.0) == 0.0
    assert heat.counterflow_effectiveness(0.0, 500.0, 500.0) == 0.0
    assert heat.counterflow_effectiveness(1e6, 500.0, 900.0) == 1.0
    assert heat.counterflow_effectiveness(900.0, 500.0, 1e9) == pytest.approx(
        heat.coil_effectiveness(900.0, 500.0), abs=1e-6
    )
    beside = heat.counterflow_effectiveness(1000.0, 500.0, 500.0 * (1 + 1e-12))
    assert beside == pytest.approx(heat.counterflow_effectiveness(1000.0, 500.0, 500.0), rel=1e-9)


@pytest.mark.evidence("conservation", "heat_transfer.counterflow_effectiveness", "heat_transfer.log_mean_difference")
@settings(deadline=None)
@given(st.floats(10.0, 3000.0), st.floats(50.0, 3000.0), st.floats(50.0, 3000.0))
def test_effectiveness_and_log_mean_give_one_heat(ua, hot_rate, cold_rate):
    moved = heat.counterflow_effectiveness(ua, hot_rate, cold_rate) * min(hot_rate, cold_rate) * 60.0
    hot_out, cold_out = 80.0 - moved / hot_rate, 20.0 + moved / cold_rate
    if min(80.0 - cold_out, hot_out - 20.0) > 1e-6:  # past that a difference of 60 K has lost its digits
        mean = heat.log_mean_difference(80.0, hot_out, 20.0, cold_out)
        assert ua * mean == pytest.approx(moved, rel=1e-5)


@pytest.mark.evidence("limit", "heat_transfer.log_mean_difference")
def test_log_mean_with_equal_ends_and_with_one_end_at_nought():
    assert heat.log_mean_difference(60.0, 50.0, 20.0, 30.0) == 30.0
    assert heat.log_mean_difference(60.0, 50.0, 20.0, 30.0 + 1e-9) == pytest.approx(30.0, abs=1e-8)
    assert heat.log_mean_difference(60.0, 20.0, 20.0, 30.0) == 0.0
    assert heat.log_mean_difference(20.0, 20.0, 20.0, 20.0) == 0.0


@settings(deadline=None)
@given(st.floats(0.01, 90.0), st.floats(0.01, 90.0))
def test_log_mean_lies_between_the_other_means_and_does_not_mind_the_order(one, other):
    mean = heat.log_mean_difference(100.0, 5.0 + other, 5.0, 100.0 - one)
    assert mean == pytest.approx(heat.log_mean_difference(100.0, 5.0 + one, 5.0, 100.0 - other), rel=1e-9)
    assert np.sqrt(one * other) <= mean * (1 + 1e-9)
    assert mean <= (one + other) / 2 * (1 + 1e-9)


@pytest.mark.evidence("limit", "heat_transfer.nusselt_in_tube")
def test_still_water_in_a_tube_only_conducts():
    assert heat.nusselt_in_tube(0.0, 5.0) == 3.66


@pytest.mark.evidence("conservation", "heat_transfer.nusselt_in_tube")
@pytest.mark.parametrize("joint", [2300.0, 4000.0])
def test_a_straight_tube_has_no_step(joint):
    below, above = heat.nusselt_in_tube([joint - 1e-6, joint + 1e-6], 4.0)
    assert above == pytest.approx(below, rel=1e-6)


@settings(deadline=None)
@given(st.floats(0.0, 5e6), st.floats(0.0, 5e6), st.floats(0.7, 100.0))
def test_more_flow_never_makes_a_worse_film_in_a_tube(one, other, prandtl):
    slow, fast = sorted((one, other))
    assert heat.nusselt_in_tube(slow, prandtl) <= heat.nusselt_in_tube(fast, prandtl) * (1 + 1e-12)


@pytest.mark.evidence("limit", "heat_transfer.nusselt_gnielinski", "heat_transfer.nusselt_dittus_boelter")
def test_rules_for_turbulent_tubes_come_together_where_both_hold():
    # At Prandtl 1 the second term of Gnielinski's denominator is nought: friction over eight, times Re - 1000.
    assert heat.nusselt_gnielinski(1e5, 1.0, 0.018) == pytest.approx(0.018 / 8 * 99_000.0)
    assert heat.nusselt_gnielinski(1e5, 4.0, 1e-12) == pytest.approx(0.0, abs=1e-6)
    assert heat.nusselt_dittus_boelter(1e4, 1.0) == pytest.approx(0.023 * 10**3.2)
    assert heat.nusselt_dittus_boelter(5e4, 4.0) == pytest.approx(heat.nusselt_in_tube(5e4, 4.0), rel=0.25)


@pytest.mark.evidence("limit", "heat_transfer.critical_reynolds_in_helix")
def test_a_wide_coil_turns_turbulent_like_a_straight_tube():
    assert heat.critical_reynolds_in_helix(1e-9, 10.0) == pytest.approx(2300.0, rel=0.01)


@pytest.mark.evidence("conservation", "heat_transfer.critical_reynolds_in_helix", "heat_transfer.nusselt_in_helix")
@settings(deadline=None)
@given(st.floats(0.1, 10.0), st.floats(10.0, 1.4e5))
def test_a_coil_twice_as_big_has_the_same_numbers(scale, reynolds):
    assert heat.critical_reynolds_in_helix(0.02 * scale, 0.45 * scale) == pytest.approx(
        heat.critical_reynolds_in_helix(0.02, 0.45)
    )
    critical = heat.critical_reynolds_in_helix(0.02, 0.45)
    if abs(reynolds - critical) > 1e-6 * critical:
        assert heat.nusselt_in_helix(reynolds, 4.0, 0.02 * scale, 0.45 * scale) == pytest.approx(
            heat.nusselt_in_helix(reynolds, 4.0, 0.02, 0.45)
        )


@pytest.mark.evidence("limit", "heat_transfer.nusselt_in_helix")
def test_still_water_in_a_helix_and_the_steps_of_the_rule():
    assert heat.nusselt_in_helix(0.0, 5.0, 0.02, 0.45) == 3.65
    critical = heat.critical_reynolds_in_helix(0.02, 0.45)
    below, above = heat.nusselt_in_helix([critical * (1 - 1e-9), critical * (1 + 1e-9)], 6.0, 0.02, 0.45)
    assert 1.2 < above / below < 1.5  # Schmidt's rule steps up here; the docstring says so
    below, above = heat.nusselt_in_helix([2.2e4 - 1e-3, 2.2e4 + 1e-3], 6.0, 0.02, 0.45)
    assert above == pytest.approx(below, rel=0.03)


@pytest.mark.evidence("limit", "heat_transfer.nusselt_outside_cylinder", "heat_transfer.nusselt_vertical_wall")
def test_without_lift_only_conduction_is_left():
    assert heat.nusselt_outside_cylinder(1e-5, 0.7) == pytest.approx(0.60**2, rel=0.2)
    assert heat.nusselt_vertical_wall(1e-5, 0.7) == pytest.approx(0.825**2, rel=0.15)
    # Far up both follow the third root of the Rayleigh number.
    for rule in (heat.nusselt_outside_cylinder, heat.nusselt_vertical_wall):
        assert rule(1e12, 7.0) / rule(1e12 / 8, 7.0) == pytest.approx(2.0, rel=0.03)


@pytest.mark.evidence("limit", "heat_transfer.radiative_coefficient")
def test_black_surface_and_bright_surface():
    assert heat.radiative_coefficient(20.0, 20.0, 1.0) == pytest.approx(4 * 5.670374419e-8 * 293.15**3)
    assert heat.radiative_coefficient(80.0, 20.0, 0.0) == 0.0


@pytest.mark.evidence("conservation", "heat_transfer.radiative_coefficient")
@settings(deadline=None)
@given(st.floats(-40.0, 200.0), st.floats(-40.0, 200.0))
def test_radiation_is_the_same_both_ways_and_follows_the_fourth_power(one, other):
    coefficient = heat.radiative_coefficient(one, other)
    assert coefficient == pytest.approx(heat.radiative_coefficient(other, one))
    fourth = 0.9 * 5.670374419e-8 * ((one + 273.15) ** 4 - (other + 273.15) ** 4)
    assert coefficient * (one - other) == pytest.approx(fourth, abs=1e-9)


@pytest.mark.evidence("limit", "heat_transfer.still_air_film", "heat_transfer.still_air_pipe_film")
def test_a_surface_as_warm_as_its_room_still_shines():
    for film in (heat.still_air_film, heat.still_air_pipe_film):
        assert film(20.0, 20.0, 1.0) > heat.radiative_coefficient(20.0, 20.0)
        assert film(20.0, 20.0, 10.0, 0.0) == pytest.approx(0.0, abs=0.01)
        assert film(60.0, 20.0, 0.05) > film(30.0, 20.0, 0.05)


@pytest.mark.evidence("conservation", "heat_transfer.still_air_film", "heat_transfer.still_air_pipe_film")
@settings(deadline=None)
@given(st.floats(-20.0, 120.0), st.floats(-20.0, 120.0), st.floats(0.02, 2.0))
def test_warm_surface_in_a_cold_room_is_the_mirror_of_a_cold_one_in_a_warm(one, other, size):
    for film in (heat.still_air_film, heat.still_air_pipe_film):
        assert film(one, other, size) == pytest.approx(film(other, one, size), rel=1e-12)


@pytest.mark.evidence("limit", "heat_transfer.tube_conductance")
def test_a_tube_with_perfect_metal_and_water_is_its_outer_film():
    ua = heat.tube_conductance(10.0, 0.0199999, 0.020, 1e9, 1e12, 8.0)
    assert ua == pytest.approx(8.0 * np.pi * 0.020 * 10.0, rel=1e-6)


@pytest.mark.evidence("conservation", "heat_transfer.tube_conductance", "heat_transfer.fouled_conductance")
@settings(deadline=None)
@given(st.floats(0.1, 20.0), st.floats(10.0, 5000.0), st.floats(5.0, 2000.0), st.floats(0.0, 1e-3))
def test_lengths_add_and_scale_is_one_resistance_more(length, inside, outside, scale):
    clean = heat.tube_conductance(length, 0.020, 0.022, 384.0, inside, outside)
    assert heat.tube_conductance(2 * length, 0.020, 0.022, 384.0, inside, outside) == pytest.approx(2 * clean)
    fouled = heat.tube_conductance(length, 0.020, 0.022, 384.0, inside, outside, scale)
    assert fouled == pytest.approx(heat.fouled_conductance(clean, np.pi * 0.020 * length, scale), rel=1e-9)


@pytest.mark.evidence("limit", "heat_transfer.fouled_conductance")
def test_a_clean_wall_keeps_its_conductance_and_a_thick_layer_rules():
    assert heat.fouled_conductance(900.0, 1.2, 0.0) == pytest.approx(900.0)
    assert heat.fouled_conductance(1e12, 1.2, 0.01) == pytest.approx(120.0)


@pytest.mark.evidence("limit", "heat_transfer.coil_conductance")
def test_scale_and_still_water_bound_a_coil():
    at_rest = heat.coil_conductance(COIL, 0.2, 60.0, 60.0)  # no difference, no lift: only conduction outside
    assert 0 < at_rest < heat.coil_conductance(COIL, 0.2, 55.0, 60.0)
    scaled = Coil(length=18.0, bore=0.020, outside=0.022, diameter=0.45, fouling=1e6)
    assert heat.coil_conductance(scaled, 0.2, 25.0, 60.0) == pytest.approx(COIL.area / 1.1 / 1e6, rel=1e-3)


@pytest.mark.evidence("conservation", "heat_transfer.coil_conductance")
def test_twice_the_coil_conducts_twice_as_much():
    double = Coil(length=36.0, bore=0.020, outside=0.022, diameter=0.45)
    one = heat.coil_conductance(COIL, 0.2, 25.0, 60.0)
    assert heat.coil_conductance(double, 0.2, 25.0, 60.0) == pytest.approx(2 * one, rel=1e-9)


def test_conductance_of_a_coil_broadcasts_and_grows_with_flow():
    table = heat.coil_conductance(COIL, [[0.05], [0.10], [0.20], [0.30]], 25.0, [50.0, 60.0, 70.0])
    assert table.shape == (4, 3)
    assert np.all(np.diff(table, axis=0) > 0)
    assert np.all(np.diff(table, axis=1) > 0)
    assert table[2, 1] == pytest.approx(heat.coil_conductance(COIL, 0.20, 25.0, 60.0))


def test_kernels_run_compiled_with_the_same_numbers(tmp_path, monkeypatch):
    from tlib.compiled import engine
    from tlib.heat_transfer import cooling, floors, outside_films, radiators, tube_films
    from tlib.heat_transfer.exchangers import outlet_isothermal

    monkeypatch.setenv("TLIB_CACHE", str(tmp_path))
    for function, arguments in (
        (outlet_isothermal, (75.0, 10.0, 900.0, 700.0)),
        (tube_films.tube, (3000.0, 5.0)),
        (tube_films.helix, (1e4, 5.0, 0.05)),
        (outside_films.cylinder, (1e6, 4.0)),
        (radiators.return_temperature, (2000.0, 60.0, 20.0, 50.0, 1.3)),
        (floors.output_behind, (16.5, 0.1)),
        (cooling.decayed, (80.0, 20.0, 0.5)),
    ):
        assert engine(function)(*arguments) == pytest.approx(function(*arguments), rel=1e-12)
