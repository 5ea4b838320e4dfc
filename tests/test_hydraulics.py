"""Tubes, friction, fittings and air: limits, conservation and symmetry."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tlib import hydraulics, water_properties
from tlib.tables import table

REYNOLDS = st.floats(1.0, 1e8)
ROUGH = st.floats(0.0, 0.05)
FLOWS = st.floats(1e-4, 2.0)
BORES = st.floats(0.006, 0.06)
LENGTHS = st.floats(0.5, 100.0)
FITTINGS = st.floats(0.0, 50.0)


# tubes


@pytest.mark.evidence("limit", "hydraulics.copper_tube")
def test_a_tube_may_be_named_with_or_without_its_usual_wall():
    assert (
        hydraulics.copper_tube("28 mm") == hydraulics.copper_tube("28 x 0.9 mm") == hydraulics.copper_tube("28×0.9mm")
    )


@pytest.mark.evidence("conservation", "hydraulics.copper_tube", "hydraulics.bore_area")
def test_metal_and_water_fill_the_outside_circle():
    for row in table("copper_tubes")["tube"]:
        tube = hydraulics.copper_tube(hydraulics.Tube(row["outside"], row["wall"]).name)
        metal = np.pi * tube.wall * (tube.outside - tube.wall)
        assert metal + hydraulics.bore_area(tube.bore) == pytest.approx(np.pi * tube.outside**2 / 4, rel=1e-12)


@pytest.mark.evidence("limit", "hydraulics.bore_area")
def test_twice_the_bore_is_four_times_the_area():
    assert hydraulics.bore_area(0.04) == pytest.approx(4 * hydraulics.bore_area(0.02), rel=1e-14)


@pytest.mark.evidence("limit", "hydraulics.tube_content")
def test_no_length_holds_nothing():
    assert hydraulics.tube_content(0.0262, 0.0) == 0.0


@pytest.mark.evidence("conservation", "hydraulics.tube_content")
def test_two_pieces_hold_what_the_whole_holds():
    whole = hydraulics.tube_content(0.0202, 12.0)
    assert hydraulics.tube_content(0.0202, [5.0, 7.0]).sum() == pytest.approx(whole, rel=1e-14)


def test_each_table_figure_says_where_it_comes_from():
    tubes = table("copper_tubes")
    for part in (tubes["source"], tubes["roughness"], tubes["fittings"], tubes["guide"]):
        assert part["obtained"]
        assert part.get("source") or part.get("title")


# friction factors


@pytest.mark.evidence("limit", "hydraulics.friction_factor")
@settings(deadline=None)
@given(reynolds=st.floats(1e-6, 2000.0), rough=ROUGH)
def test_slow_flow_is_laminar_whatever_the_wall(reynolds, rough):
    assert hydraulics.friction_factor(reynolds, rough) == pytest.approx(64.0 / reynolds, rel=1e-14)


@pytest.mark.evidence("limit", "hydraulics.friction_factor")
@pytest.mark.parametrize("rough", [0.0, 1e-4, 0.05])
@pytest.mark.parametrize("edge", [2000.0, 4000.0])
def test_the_line_between_laminar_and_turbulent_has_no_step(edge, rough):
    below, above = hydraulics.friction_factor([edge * (1 - 1e-9), edge * (1 + 1e-9)], rough)
    assert below == pytest.approx(above, rel=1e-7)


@pytest.mark.evidence("limit", "hydraulics.friction_factor")
def test_halfway_between_2000_and_4000_is_the_mean_of_the_ends():
    ends = hydraulics.friction_factor([2000.0, 4000.0], 1e-3)
    assert hydraulics.friction_factor(3000.0, 1e-3) == pytest.approx(ends.mean(), rel=1e-14)


@settings(deadline=None)
@given(reynolds=st.floats(4000.0, 1e8), rough=ROUGH)
def test_turbulent_factor_solves_the_implicit_equation(reynolds, rough):
    root = hydraulics.friction_factor(reynolds, rough) ** -0.5
    assert root == pytest.approx(-2.0 * np.log10(rough / 3.7 + 2.51 * root / reynolds), rel=1e-12)


@pytest.mark.evidence("limit", "hydraulics.haaland_friction_factor", "hydraulics.swamee_jain_friction_factor")
def test_rough_walls_alone_set_the_factor_at_the_highest_speeds():
    """Fully rough flow: 1/sqrt(f) = -2 log10(eps/3.7), which Haaland writes as -1.8 log10((eps/3.7)**1.11)."""
    nikuradse = (-2.0 * np.log10(0.01 / 3.7)) ** -2
    assert hydraulics.swamee_jain_friction_factor(1e8, 0.01) == pytest.approx(nikuradse, rel=1e-4)
    assert hydraulics.haaland_friction_factor(1e8, 0.01) == pytest.approx(nikuradse, rel=3e-3)


@pytest.mark.evidence(
    "conservation", "hydraulics.friction_factor", "hydraulics.haaland_friction_factor",
    "hydraulics.swamee_jain_friction_factor",
)  # fmt: skip
@settings(deadline=None)
@given(reynolds=st.floats(5e3, 9e7), rough=st.floats(0.0, 0.04), more=st.floats(1.001, 1.1))
def test_faster_flow_and_smoother_walls_lower_the_factor(reynolds, rough, more):
    for factor in (
        hydraulics.friction_factor, hydraulics.haaland_friction_factor, hydraulics.swamee_jain_friction_factor,
    ):  # fmt: skip
        here = factor(reynolds, rough)
        assert factor(reynolds * more, rough) <= here * (1 + 1e-12)
        assert factor(reynolds, rough * more) >= here * (1 - 1e-12)


@pytest.mark.parametrize("rough", [0.0, 1e-6, 1e-4, 1e-2])
def test_explicit_formulas_stay_near_the_implicit_one(rough):
    reynolds = np.logspace(np.log10(5000), 8, 60)
    implicit = hydraulics.friction_factor(reynolds, rough)
    assert hydraulics.haaland_friction_factor(reynolds, rough) == pytest.approx(implicit, rel=0.015)
    assert hydraulics.swamee_jain_friction_factor(reynolds, rough) == pytest.approx(implicit, rel=0.03)


def test_explicit_formulas_are_within_three_and_a_half_per_cent_from_4000_and_up_to_the_roughest_wall():
    reynolds, rough = np.meshgrid(np.logspace(np.log10(4000), 8, 40), [0.0, 1e-3, 0.02, 0.05])
    implicit = hydraulics.friction_factor(reynolds, rough)
    assert hydraulics.swamee_jain_friction_factor(reynolds, rough) == pytest.approx(implicit, rel=0.035)


# speed, Reynolds number, pressure drop


@pytest.mark.evidence("limit", "hydraulics.water_speed", "hydraulics.reynolds_number", "hydraulics.pressure_drop")
def test_still_water_has_no_speed_and_uses_no_pressure():
    assert hydraulics.water_speed(0.0, 0.02) == 0.0
    assert hydraulics.reynolds_number(0.0, 0.02) == 0.0
    assert hydraulics.pressure_drop(0.0, 0.02, 10.0, 5.0) == 0.0


@pytest.mark.evidence("conservation", "hydraulics.water_speed")
def test_the_speeds_in_two_bores_carry_the_same_mass():
    speeds = hydraulics.water_speed(0.2, [0.0202, 0.0262], 60.0)
    carried = speeds * hydraulics.bore_area([0.0202, 0.0262]) * water_properties.density(60.0)
    assert carried == pytest.approx(0.2, rel=1e-14)


@pytest.mark.evidence("conservation", "hydraulics.reynolds_number")
@settings(deadline=None)
@given(flow=FLOWS, bore=BORES)
def test_reynolds_number_knows_no_direction_and_agrees_with_the_speed(flow, bore):
    forward, back = hydraulics.reynolds_number([flow, -flow], bore)
    by_speed = (
        water_properties.density(60.0) * hydraulics.water_speed(flow, bore) * bore / water_properties.viscosity(60.0)
    )
    assert forward == back == pytest.approx(by_speed, rel=1e-12)


@pytest.mark.evidence("limit", "hydraulics.pressure_drop")
def test_slow_flow_follows_poiseuille():
    flow, bore, length = 1e-3, 0.0136, 4.0
    viscosity, density = water_properties.viscosity(60.0), water_properties.density(60.0)
    poiseuille = 128.0 * viscosity * length * flow / (density * np.pi * bore**4)
    assert hydraulics.pressure_drop(flow, bore, length) == pytest.approx(poiseuille, rel=1e-12)


@pytest.mark.evidence("conservation", "hydraulics.pressure_drop")
@settings(deadline=None)
@given(flow=FLOWS, bore=BORES, length=LENGTHS, fittings=FITTINGS, part=st.floats(0.0, 1.0))
def test_a_pipe_cut_in_two_uses_what_the_whole_uses_and_backwards_the_opposite(flow, bore, length, fittings, part):
    whole = hydraulics.pressure_drop(flow, bore, length, fittings)
    first = hydraulics.pressure_drop(flow, bore, length * part, fittings * part)
    second = hydraulics.pressure_drop(flow, bore, length * (1 - part), fittings * (1 - part))
    assert first + second == pytest.approx(whole, rel=1e-9)
    assert hydraulics.pressure_drop(-flow, bore, length, fittings) == -whole


@pytest.mark.evidence("conservation", "hydraulics.flow_at_drop")
@settings(deadline=None)
@given(flow=FLOWS, bore=BORES, length=LENGTHS, fittings=FITTINGS, rough=st.floats(0.0, 0.049), hot=st.floats(5.0, 95.0))
def test_the_flow_at_a_drop_gives_that_drop_back(flow, bore, length, fittings, rough, hot):
    drop = hydraulics.pressure_drop(flow, bore, length, fittings, hot, rough * bore)
    if drop < 1e7:
        found = hydraulics.flow_at_drop([drop, -drop], bore, length, fittings, hot, rough * bore)
        assert found == pytest.approx([flow, -flow], rel=1e-9)


@pytest.mark.evidence("limit", "hydraulics.flow_at_drop")
def test_no_push_no_flow():
    assert hydraulics.flow_at_drop(0.0, 0.02, 10.0) == 0.0


@pytest.mark.evidence("limit", "hydraulics.flow_at_drop")
def test_fittings_alone_give_the_closed_form():
    speed = np.sqrt(2.0 * 500.0 / (water_properties.density(60.0) * 8.0))
    flow = hydraulics.flow_at_drop(500.0, 0.0202, 0.0, 8.0)
    assert hydraulics.water_speed(flow, 0.0202) == pytest.approx(speed, rel=1e-12)


@settings(deadline=None)
@given(low=FLOWS, more=st.floats(1.001, 3.0), bore=BORES)
def test_more_flow_always_uses_more_pressure(low, more, bore):
    small, large = hydraulics.pressure_drop([low, low * more], bore, 5.0)
    assert large > small


def test_arrays_broadcast_and_scalars_stay_scalars():
    drops = hydraulics.pressure_drop([[0.1], [0.2]], [0.0136, 0.0202, 0.0262], 1.0)
    assert drops.shape == (2, 3)
    assert drops[1, 0] == hydraulics.pressure_drop(0.2, 0.0136, 1.0)
    assert np.ndim(hydraulics.pressure_drop(0.2, 0.0136, 1.0)) == 0


# fittings and valves


@pytest.mark.evidence("limit", "hydraulics.fittings_resistance")
def test_no_fittings_resist_nothing():
    assert hydraulics.fittings_resistance({}) == 0.0 == hydraulics.fittings_resistance({"elbow": 0})


@pytest.mark.evidence("conservation", "hydraulics.fittings_resistance")
def test_two_lists_of_fittings_add_up():
    both = hydraulics.fittings_resistance({"elbow": 5, "tee, to the branch": 1, "exit": 1})
    parts = hydraulics.fittings_resistance({"elbow": 2}) + hydraulics.fittings_resistance(
        {"elbow": 3, "tee, to the branch": 1, "exit": 1}
    )
    assert both == pytest.approx(parts, rel=1e-14)


@pytest.mark.evidence("limit", "hydraulics.valve_drop", "hydraulics.valve_flow", "hydraulics.valve_coefficient")
def test_kv_is_the_hourly_flow_at_one_bar():
    assert hydraulics.valve_drop(2.5 / 3600, 2.5) == pytest.approx(1e5, rel=1e-14)
    assert hydraulics.valve_flow(1e5, 2.5) == pytest.approx(2.5 / 3600, rel=1e-14)
    assert hydraulics.valve_coefficient(2.5 / 3600, 1e5) == pytest.approx(2.5, rel=1e-14)
    assert hydraulics.valve_drop(0.0, 2.5) == hydraulics.valve_flow(0.0, 2.5) == 0.0


@pytest.mark.evidence("conservation", "hydraulics.valve_drop", "hydraulics.valve_flow", "hydraulics.valve_coefficient")
@settings(deadline=None)
@given(flow=st.floats(1e-6, 1e-3), kv=st.floats(0.5, 50.0), density=st.floats(900.0, 1050.0))
def test_drop_flow_and_coefficient_undo_one_another(flow, kv, density):
    drop = hydraulics.valve_drop(flow, kv, density)
    assert hydraulics.valve_flow(drop, kv, density) == pytest.approx(flow, rel=1e-12)
    assert hydraulics.valve_flow(-drop, kv, density) == pytest.approx(-flow, rel=1e-12)
    assert hydraulics.valve_drop(-flow, kv, density) == -drop
    assert hydraulics.valve_coefficient(flow, drop, density) == pytest.approx(kv, rel=1e-12)


@pytest.mark.evidence("limit", "hydraulics.valve_resistance")
def test_half_the_kv_resists_four_times_as_much():
    assert hydraulics.valve_resistance(2.0, 0.02) == pytest.approx(
        4 * hydraulics.valve_resistance(4.0, 0.02), rel=1e-14
    )


@pytest.mark.evidence("conservation", "hydraulics.valve_resistance")
@settings(deadline=None)
@given(flow=FLOWS, kv=st.floats(0.5, 50.0), bore=BORES)
def test_a_valve_uses_the_same_pressure_by_kv_and_by_its_coefficient(flow, kv, bore):
    density = water_properties.density(60.0)
    by_kv = hydraulics.valve_drop(flow / density, kv, density)
    by_coefficient = hydraulics.pressure_drop(flow, bore, 0.0, hydraulics.valve_resistance(kv, bore))
    assert by_coefficient == pytest.approx(by_kv, rel=1e-12)


# air


@pytest.mark.evidence("limit", "hydraulics.surface_tension", "hydraulics.self_venting_speed")
def test_near_the_critical_point_nothing_holds_the_surface_and_wide_pipes_forget_it():
    assert 0.0 < hydraulics.surface_tension(370.0) < 0.0005
    assert hydraulics.self_venting_speed(0.3) == pytest.approx(0.34 * np.sqrt(9.81 * 0.3), rel=1e-4)


@pytest.mark.evidence("conservation", "hydraulics.surface_tension", "hydraulics.self_venting_speed")
@settings(deadline=None)
@given(temperature=st.floats(1.0, 98.0), bore=st.floats(0.006, 0.29), more=st.floats(1.001, 1.02))
def test_warm_water_holds_its_surface_less_and_wider_pipes_let_bubbles_rise_faster(temperature, bore, more):
    assert hydraulics.surface_tension(temperature * more) < hydraulics.surface_tension(temperature)
    assert hydraulics.self_venting_speed(bore * more, temperature) > hydraulics.self_venting_speed(bore, temperature)


def test_the_guide_speed_lies_above_the_self_venting_speed_of_every_tube_of_a_house():
    guide = float(table("copper_tubes")["guide"]["self-venting speed"].split()[0])
    bores = [
        hydraulics.copper_tube(name).bore for name in ("8 mm", "10 mm", "15 mm", "22 mm", "28 mm", "35 mm", "54 mm")
    ]
    assert np.all(hydraulics.self_venting_speed(bores) < guide)
