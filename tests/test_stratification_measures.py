"""The measures of how well layers keep apart: limits, conservation, errors, and many profiles at once."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays

from tlib.stratification import (
    discharge_efficiency,
    exergy,
    merged,
    mix_number,
    richardson_number,
    stratification_efficiency,
    stratification_number,
    thermocline_thickness,
    usable_heat,
)
from tlib.validation import OutOfRange

EXCUSED = [
    ("conservation", "stratification.richardson_number", "a ratio of forces; no heat or mass is moved"),
    (
        "conservation",
        "stratification.thermocline_thickness",
        "a length off a profile; its symmetry is a limit test",
    ),
]

LAYERED, STIRRED = [20.0] * 25 + [60.0] * 25, [40.0] * 50

profiles = arrays(float, st.integers(1, 60), elements=st.floats(4.0, 110.0))


# --- MIX ---


@pytest.mark.evidence("limit", "stratification.mix_number")
@pytest.mark.parametrize("cells", range(1, 50))
def test_two_zones_are_not_stirred_wherever_the_edge_lies(cells):
    layers = [15.0] * (50 - cells) + [75.0] * cells
    assert mix_number(layers, 15, 75) == pytest.approx(0.0, abs=1e-12)


@pytest.mark.evidence("limit", "stratification.mix_number")
def test_mix_numbers_of_known_shapes():
    """[Davidson 1994]: one temperature 1; a straight profile 1/3 (0.3400 in ten layers); upside down 2 - MIX."""
    middles = (np.arange(10) + 0.5) / 10
    assert mix_number(STIRRED, 20, 80) == 1.0
    assert mix_number(20 + 60 * middles, 20, 80) == pytest.approx(0.3400, abs=1e-12)
    assert mix_number(20 + 60 * (np.arange(1000) + 0.5) / 1000, 20, 80) == pytest.approx(1 / 3, abs=1e-6)
    assert mix_number([30, 70], 20, 80) == pytest.approx(1 / 3, abs=1e-12)
    assert mix_number([70, 30], 20, 80) == pytest.approx(5 / 3, abs=1e-12)


@pytest.mark.evidence("limit", "stratification.mix_number")
@pytest.mark.parametrize(
    ("layers", "cold", "hot"), [([20, 20], 20, 80), ([80, 80], 20, 80), ([40, 40], 40, 40), ([10, 12], 20, 80)]
)
def test_mix_is_not_defined_where_no_two_zones_hold_the_heat(layers, cold, hot):
    assert np.isnan(mix_number(layers, cold, hot))


def test_mix_needs_fixed_ends():
    """The same six sensors: 0.56 against the mains and the source, 0.22 against their own ends."""
    layers = [45, 48, 52, 56, 61, 68]
    assert mix_number(layers, 35, 75) == pytest.approx(0.56, abs=0.005)
    assert mix_number(layers, 45, 68) == pytest.approx(0.22, abs=0.005)


@pytest.mark.evidence("conservation", "stratification.mix_number")
@given(arrays(float, 12, elements=st.floats(20.0, 80.0)), st.floats(-10, 10), st.floats(0.5, 2.0))
def test_mix_does_not_depend_on_the_scale_of_temperature(layers, shift, stretch):
    share = (layers.mean() - 19) / 62
    one, other = (
        mix_number(layers, 19, 81),
        mix_number(shift + stretch * layers, shift + stretch * 19, shift + stretch * 81),
    )
    assert 0 < share < 1
    assert other == pytest.approx(one, abs=1e-8)


@given(arrays(float, 12, elements=st.floats(20.0, 80.0)))
def test_merging_never_leaves_a_store_upside_down(layers):
    mix = mix_number(merged(layers), 19, 81)
    assert -1e-9 <= mix <= 1 + 1e-9


@pytest.mark.evidence("error", "stratification.mix_number")
@pytest.mark.parametrize(
    ("layers", "cold", "hot", "says"),
    [
        (50.0, 20, 80, "layers must be a list of temperatures; got 50.0"),
        ([], 20, 80, r"layers must be a list of temperatures; got \[\]"),
        ([20, np.inf], 20, 80, "layers must be a finite number; got inf at place 1"),
        ([20, 80], np.nan, 80, "cold must be a finite number; got nan"),
        ([20, 80], 20, np.nan, "hot must be a finite number; got nan"),
        ([20, 80], 80, 20, "hot less cold must be 0 K or more; got -60"),
        ([20, -274], 20, 80, "layers must be above -273.15 °C; got -274 at place 1"),
    ],
)
def test_mix_number_refuses(layers, cold, hot, says):
    with pytest.raises(OutOfRange, match=says):
        mix_number(layers, cold, hot)


# --- stratification number ---


@pytest.mark.evidence("limit", "stratification.stratification_number")
def test_stratification_number_of_the_reference_the_stirred_and_the_flat():
    assert stratification_number(LAYERED, LAYERED) == 1.0
    assert stratification_number(STIRRED, LAYERED) == 0.0
    assert stratification_number([30, 40, 50, 60], [20, 40, 60, 80]) == pytest.approx(0.5, abs=1e-9)
    assert np.isnan(stratification_number(LAYERED, STIRRED))
    assert np.isnan(stratification_number([50.0], [50.0]))


@pytest.mark.evidence("conservation", "stratification.stratification_number")
@given(arrays(float, (4, 9), elements=st.floats(5.0, 95.0)))
def test_numbers_against_successive_references_multiply(profile):
    a, b, c = np.sort(profile[:3], axis=-1) + np.arange(9)
    chained = stratification_number(a, b) * stratification_number(b, c)
    assert chained == pytest.approx(stratification_number(a, c), rel=1e-9)


@pytest.mark.evidence("error", "stratification.stratification_number")
def test_stratification_number_refuses():
    with pytest.raises(OutOfRange, match="as many layers; got 2 and 3"):
        stratification_number([20, 30], [20, 30, 40])
    with pytest.raises(OutOfRange, match="reference must be a list of temperatures"):
        stratification_number([20, 30], 30)
    with pytest.raises(OutOfRange, match="layers must be a finite number; got nan at place 0"):
        stratification_number([np.nan, 30], [20, 30])
    with pytest.raises(OutOfRange, match="reference must be a finite number; got inf at place 1"):
        stratification_number([20, 30], [20, np.inf])


# --- Richardson number ---


@pytest.mark.evidence("limit", "stratification.richardson_number")
def test_richardson_number_at_rest_and_upside_down():
    assert richardson_number(5e-4, 40, 1.2, 0.0) == np.inf
    assert np.isnan(richardson_number(5e-4, 0.0, 1.2, 0.0))
    assert richardson_number(5e-4, -40, 1.2, 0.1) < 0


@given(st.floats(1e-5, 1e-3), st.floats(0.1, 80), st.floats(0.1, 3), st.floats(1e-4, 2))
def test_twice_the_speed_is_a_quarter_of_the_richardson_number(expansion, difference, height, speed):
    once = richardson_number(expansion, difference, height, speed)
    assert richardson_number(expansion, difference, height, 2 * speed) == pytest.approx(once / 4, rel=1e-12)


@pytest.mark.evidence("error", "stratification.richardson_number")
@pytest.mark.parametrize(
    ("change", "says"),
    [
        ({"expansion": np.nan}, "expansion must be a finite number; got nan"),
        ({"difference": np.inf}, "difference must be a finite number; got inf"),
        ({"height": 0.0}, "height must be above 0 m; got 0"),
        ({"speed": -0.1}, "speed must be 0 m/s or more; got -0.1"),
        ({"speed": "fast"}, "speed must be a number in m/s; got 'fast'"),
    ],
)
def test_richardson_number_refuses(change, says):
    with pytest.raises(OutOfRange, match=says):
        richardson_number(**{"expansion": 5e-4, "difference": 40, "height": 1.2, "speed": 0.1} | change)


# --- thermocline ---


@pytest.mark.evidence("limit", "stratification.thermocline_thickness")
def test_thickness_of_a_step_a_straight_profile_and_none():
    assert thermocline_thickness(LAYERED, 1.7, 20, 60) == pytest.approx(0.8 * 1.7 / 50, rel=1e-12)
    straight = 20 + 40 * (np.arange(50) + 0.5) / 50
    assert thermocline_thickness(straight, 1.7, 20, 60) == pytest.approx(0.8 * 1.7, rel=1e-12)
    assert np.isnan(thermocline_thickness(STIRRED, 1.7, 20, 60))
    assert np.isnan(thermocline_thickness([20, 20, 40], 1.7, 20, 60)), "90 % is not in the store"
    assert np.isnan(thermocline_thickness([40, 60, 60], 1.7, 20, 60)), "10 % is not in the store"
    assert np.isnan(thermocline_thickness([40.0], 1.7, 20, 60))


@pytest.mark.evidence("limit", "stratification.thermocline_thickness")
def test_an_upside_down_profile_is_as_thick_the_other_way():
    layers = np.array([20, 22, 31, 47, 55, 60.0])
    thickness = thermocline_thickness(layers, 1.2, 20, 60)
    assert thermocline_thickness(layers[::-1], 1.2, 20, 60) == pytest.approx(-thickness, rel=1e-12)
    assert thermocline_thickness(80 - layers[::-1], 1.2, 20, 60) == pytest.approx(thickness, rel=1e-12)


def test_the_outermost_places_count_where_a_profile_turns():
    turning = [20, 30, 20, 30, 50, 60, 50, 60]
    assert thermocline_thickness(turning, 8.0, 20, 60) == pytest.approx((6 + 0.6) - 0.4, rel=1e-12)


@pytest.mark.evidence("error", "stratification.thermocline_thickness")
@pytest.mark.parametrize(
    ("layers", "height", "cold", "hot", "says"),
    [
        ([20, 60], 0.0, 20, 60, "height must be above 0 m; got 0"),
        ([20, 60], 1.5, 60, 60, "hot less cold must be above 0 K; got 0"),
        ([20, np.nan], 1.5, 20, 60, "layers must be a finite number; got nan at place 1"),
        ([20, 60], 1.5, 20, np.inf, "hot must be a finite number; got inf"),
        (20, 1.5, 20, 60, "layers must be a list of temperatures; got 20.0"),
    ],
)
def test_thermocline_thickness_refuses(layers, height, cold, hot, says):
    with pytest.raises(OutOfRange, match=says):
        thermocline_thickness(layers, height, cold, hot)


# --- exergy and usable heat ---


@pytest.mark.evidence("limit", "stratification.exergy")
def test_exergy_is_nothing_at_the_dead_state_and_something_on_either_side():
    assert exergy([15.0, 15.0], 300, 15.0) == 0.0
    assert exergy([14.0, 14.0], 300, 15.0) > 0
    assert exergy([16.0, 16.0], 300, 15.0) > 0
    # near the dead state half m c dT^2 / T0, to the last digits
    assert exergy([15.001], 300, 15.0, 4186.0) == pytest.approx(300 * 4186 * 1e-6 / 2 / 288.15, rel=1e-5)


@pytest.mark.evidence("limit", "stratification.exergy")
def test_the_series_near_the_dead_state_joins_the_logarithm():
    rise = 288.15 * 0.02 * np.array([1 - 1e-9, 1 + 1e-9])
    low, high = exergy((15 + rise)[:, np.newaxis], 300, 15.0)
    assert high / low == pytest.approx(1 + 4e-9, abs=1e-9)


@pytest.mark.evidence("conservation", "stratification.exergy")
@given(profiles, st.floats(-10, 40))
def test_stirring_keeps_the_heat_but_never_gains_exergy(layers, dead_state):
    before = exergy(layers, 300, dead_state)
    assert exergy(merged(layers), 300, dead_state) <= before * (1 + 1e-9) + 1e-6
    assert exergy(np.full(len(layers), layers.mean()), 300, dead_state) <= before * (1 + 1e-9) + 1e-6
    assert exergy(layers[::-1], 300, dead_state) == pytest.approx(before, rel=1e-12), "the order does not matter"


@pytest.mark.evidence("limit", "stratification.usable_heat")
def test_usable_heat_above_absolute_cold_is_all_and_above_the_hottest_none():
    layers = [30, 30, 32, 58, 72, 74]
    assert usable_heat(layers, 300, limit=-50) == pytest.approx(300 * 4186.8 * (np.mean(layers) + 50), rel=1e-13)
    assert usable_heat(layers, 300, limit=74) == 0.0
    assert usable_heat(layers, 300, limit=50) / 3.6e6 == pytest.approx(3.14, abs=0.005)


@pytest.mark.evidence("conservation", "stratification.usable_heat")
@given(profiles, st.floats(0, 100))
def test_heat_above_and_below_a_limit_make_all_the_heat(layers, limit):
    above = usable_heat(layers, 300, limit)
    below = usable_heat(-layers, 300, -limit)
    assert above - below == pytest.approx(300 * 4186.8 * (layers.mean() - limit), rel=1e-9, abs=1e-2)
    assert usable_heat(merged(layers), 300, limit) <= above * (1 + 1e-12) + 1e-6, "mixing never makes heat useful"


@pytest.mark.evidence("error", "stratification.exergy", "stratification.usable_heat")
@pytest.mark.parametrize(
    ("change", "says"),
    [
        ({"layers": [50, np.nan]}, "layers must be a finite number; got nan at place 1"),
        ({"layers": 50}, "layers must be a list of temperatures; got 50.0"),
        ({"mass": 0}, "mass must be above 0 kg; got 0"),
        ({"mass": np.inf}, "mass must be a finite number; got inf"),
        ({"specific_heat": -1}, r"specific heat must be above 0 J/\(kg K\); got -1"),
    ],
)
def test_exergy_and_usable_heat_refuse(change, says):
    usual = {"layers": [20, 60], "mass": 300, "specific_heat": 4186.8}
    with pytest.raises(OutOfRange, match=says):
        exergy(**usual | change, dead_state=10)
    with pytest.raises(OutOfRange, match=says):
        usable_heat(**usual | change, limit=40)


@pytest.mark.evidence("error", "stratification.exergy", "stratification.usable_heat")
def test_exergy_and_usable_heat_refuse_their_own_temperature():
    with pytest.raises(OutOfRange, match=r"dead state must be above -273\.15 °C; got -300"):
        exergy([20, 60], 300, -300)
    with pytest.raises(OutOfRange, match="limit must be a finite number; got nan"):
        usable_heat([20, 60], 300, np.nan)


# --- efficiencies ---


@pytest.mark.evidence("limit", "stratification.discharge_efficiency")
def test_discharge_efficiency_of_plug_flow_of_nothing_and_of_a_cold_store():
    plug = {"drawn": 10.0, "layers": [60.0] * 5, "mass": 300, "cold": 10}
    assert discharge_efficiency([60.0] * 30, useful=40, **plug) == pytest.approx(1.0, rel=1e-13)
    assert discharge_efficiency([60.0] * 30, useful=60, **plug) == pytest.approx(1.0, rel=1e-13), "just hot enough"
    assert discharge_efficiency([60.0] * 30, useful=61, **plug) == 0.0
    assert np.isnan(discharge_efficiency([10.0], useful=40, drawn=10, layers=[10.0] * 5, mass=300, cold=10))


def test_what_comes_after_the_outlet_first_falls_too_low_does_not_count():
    late = discharge_efficiency([60, 30, 60], [10, 10, 10], [60, 60], 300, 10, useful=40)
    assert late == pytest.approx(10 / 300, rel=1e-12)


@pytest.mark.evidence("conservation", "stratification.discharge_efficiency")
@given(arrays(float, 20, elements=st.floats(41, 80)), arrays(float, 20, elements=st.floats(0, 20)))
def test_discharge_efficiency_times_the_heat_held_is_the_heat_drawn(outlet, drawn):
    share = discharge_efficiency(outlet, drawn, [20, 80], 300, cold=10, useful=40)
    assert share * 300 * (50 - 10) == pytest.approx(np.sum(drawn * (outlet - 10)), rel=1e-12, abs=1e-9)


@pytest.mark.evidence("error", "stratification.discharge_efficiency")
@pytest.mark.parametrize(
    ("change", "says"),
    [
        ({"outlet": 60}, "outlet must be a list of temperatures; got 60.0"),
        ({"outlet": [60, np.nan]}, "outlet must be a finite number; got nan at place 1"),
        ({"drawn": [1, -1]}, "drawn must be 0 kg or more; got -1 at place 1"),
        ({"layers": [np.inf]}, "layers must be a finite number; got inf at place 0"),
        ({"mass": 0}, "mass must be above 0 kg; got 0"),
        ({"cold": np.nan}, "cold must be a finite number; got nan"),
        ({"useful": np.nan}, "useful must be a finite number; got nan"),
    ],
)
def test_discharge_efficiency_refuses(change, says):
    usual = {"outlet": [60, 60], "drawn": 1, "layers": [60, 60], "mass": 300, "cold": 10, "useful": 40}
    with pytest.raises(OutOfRange, match=says):
        discharge_efficiency(**usual | change)


@pytest.mark.evidence("limit", "stratification.stratification_efficiency")
def test_stratification_efficiency_of_no_mixing_full_mixing_and_nothing_to_mix():
    assert stratification_efficiency(0.0, 6e5) == 1.0
    assert stratification_efficiency(6e5, 6e5) == 0.0
    assert np.isnan(stratification_efficiency(0.0, 0.0))


@pytest.mark.evidence("conservation", "stratification.stratification_efficiency")
@given(st.floats(0, 1e6), st.floats(0, 1e6), st.floats(1e3, 1e6))
def test_losses_of_one_after_another_add(first, second, stirred):
    whole = 1 - stratification_efficiency(first + second, stirred)
    parts = [1 - stratification_efficiency(destroyed, stirred) for destroyed in (first, second)]
    assert whole == pytest.approx(sum(parts), rel=1e-12, abs=1e-9)


@pytest.mark.evidence("error", "stratification.stratification_efficiency")
@pytest.mark.parametrize(
    ("destroyed", "stirred", "says"),
    [
        (-1.0, 5.0, "destroyed exergy must be 0 J or more; got -1"),
        (1.0, -5.0, "exergy destroyed by the stirred store must be 0 J or more; got -5"),
        (np.nan, 5.0, "destroyed exergy must be a finite number; got nan"),
        (1.0, np.inf, "exergy destroyed by the stirred store must be a finite number; got inf"),
    ],
)
def test_stratification_efficiency_refuses(destroyed, stirred, says):
    with pytest.raises(OutOfRange, match=says):
        stratification_efficiency(destroyed, stirred)


# --- broadcasting: layers on the last axis, everything else over the leading ones ---

MEASURES = {
    "mix": lambda layers, x: mix_number(layers, 5 + x, 95 + x),
    "number": lambda layers, x: stratification_number(layers, np.linspace(20, 80, 7)) * (1 + x),
    "thermocline": lambda layers, x: thermocline_thickness(layers, 1 + x, 30 + x, 60 + x),
    "exergy": lambda layers, x: exergy(layers, 100 + x, 10 + x),
    "usable": lambda layers, x: usable_heat(layers, 100 + x, 30 + x),
    "discharge": lambda layers, x: discharge_efficiency(layers, 1.0, layers, 100 + x, 4 - x, 20 + x),
}


@pytest.mark.parametrize("measure", MEASURES.values(), ids=MEASURES)
@given(layers=arrays(float, (2, 3, 7), elements=st.floats(10.0, 90.0)), x=arrays(float, (3,), elements=st.floats(0, 3)))
def test_many_profiles_are_each_measured_as_if_alone(measure, layers, x):
    together = measure(layers, x)
    assert together.shape == (2, 3)
    for place in np.ndindex(2, 3):
        alone = measure(layers[place], x[place[1]])
        assert np.ndim(alone) == 0
        assert together[place] == pytest.approx(alone, rel=1e-12, abs=1e-9, nan_ok=True)


@pytest.mark.evidence("error", "stratification.mix_number", "stratification.exergy", "stratification.usable_heat")
@pytest.mark.parametrize("measure", ["mix", "exergy", "usable", "thermocline"])
def test_shapes_that_do_not_go_together_are_refused(measure):
    with pytest.raises(ValueError, match="broadcast"):
        MEASURES[measure](np.full((2, 7), 50.0), np.zeros(3))
